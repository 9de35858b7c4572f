// Lines on their way to the store: kept on this device until acknowledged, first in, first out, one after another.
//
// What was sent once is sent again with the same name and the same bytes. A line whose station the page could not know
// follows the line before it: it gets its station from that line's answer. What the store will never take is set aside.

import { at, api } from "./sheet.js";
import { device, freshName, recall } from "./remember.js";
import { open } from "./box.js";
import { moveOld } from "./outbox_old.js";

const MOST = 2000; // lines that may wait: the heads of a V8 have some 600 stations, and a day may pass without the store
const PATIENCE = 15000; // milliseconds for one answer
const TRY_AGAIN = new Set([408, 425, 429]);
const hand = sessionStorage.getItem("hand") || freshName("h-"); // this tab, also after it was loaded again
sessionStorage.setItem("hand", hand);

const mine = new Map(); // id -> item: what this tab typed on this job and has no answer yet
const others = new BroadcastChannel("witnessmark-box");
const box = open();
let ready = null; // the open box, once it is there
let pumping = false;
let wanted = false;
let wait = 0;
let timer = 0;

export const waiting = () => mine.size;

function tell(name, detail) {
  document.dispatchEvent(new CustomEvent(name, { detail }));
}

const isMine = (item) => item.hand === hand && item.job === at.job;
const sealed = (item, seq) => {
  const sent = { ...item.sent, device_seq: item.sent.device_seq || seq };
  return { ...item, n: seq, sent, body: sent.place ? JSON.stringify(sent) : null };
};

// ---- typed ----

// `station` is null where only the answer to the line before tells it. `more` may hold supersedes, reason, question.
export async function put(line, station, more = {}, where = []) {
  const sent = { id: freshName("r-"), device: device(), device_seq: 0, at: new Date().toISOString(), by: recall("by"),
    line, round: at.round, gauge: at.gauge || null, method: at.method || null,
    order: recall("order") || "by part", sheet: at.sheet || "", temperature: at.part_at ? { part: at.part_at } : null,
    ...more, ...station };
  const item = { n: 0, hand, job: at.job, where, sent, body: null };
  mine.set(sent.id, item);
  const why = await kept(item);
  if (why) {
    mine.delete(sent.id);
    tell("line:unkept", { line, item, what: why });
    return;
  }
  if (mine.has(sent.id)) mine.set(sent.id, { ...item, n: item.n || 1 }); // it is in the box now
  tell("line:waiting", { line, lasts: (await box).lasts });
  pump();
}

// "" once the line is on the disk of this device, else why it is not.
async function kept(item) {
  const add = (state) => {
    if (state.waiting.length >= MOST) return `${MOST} lines wait for the store; let them go first.`;
    state.seq += 1;
    state.waiting.push(sealed(item, state.seq));
    return "";
  };
  try {
    return await (ready || (await box)).change(add);
  } catch (reason) {
    return `This device could not keep it (${reason?.message || "no room"}).`;
  }
}

// ---- sent ----

export async function pump() {
  wanted = true;
  clearTimeout(timer);
  if (pumping) return;
  pumping = true;
  try {
    while (wanted) {
      wanted = false;
      const held = await alone(drain).catch(shut);
      if (held) later(held);
    }
  } finally {
    pumping = false;
  }
}

// One sender for all tabs. Where the browser has no locks each tab sends; names and bytes keep that from doubling.
const alone = (work) => (navigator.locks ? navigator.locks.request("witnessmark-box", work) : work());

const shut = (reason) => ({ line: "", count: mine.size, told: { what: `this device's own box is shut (${reason?.message})` } });

// Sends until the box is empty; gives what stopped it, if anything did.
async function drain() {
  const own = await box;
  for (let sent = 0; ; sent += 1) {
    const { waiting: lines } = await own.read();
    reconcile(lines);
    if (!lines.length) {
      wait = 0;
      if (sent) tell("lines:empty", null);
      return null;
    }
    const answer = lines[0].body ? await post(lines[0]) : lost();
    if (answer.later) return { ...answer, line: lines[0].sent.line, count: lines.length };
    wait = 0;
    await own.change((state) => settle(state, lines[0], answer));
    others.postMessage({ item: lines[0], answer });
    arrived(lines[0], answer);
  }
}

// `later`: the store did not take it now; what it said, if anything, is told while the line waits.
async function post(item) {
  const to = item.job === at.job ? api("line") : `/api/jobs/${encodeURIComponent(item.job)}/line`;
  try {
    const answer = await fetch(to, { method: "POST", headers: { "Content-Type": "application/json" },
      body: item.body, signal: AbortSignal.timeout(PATIENCE) });
    const told = await answer.json();
    return { ok: answer.ok, later: answer.status >= 500 || TRY_AGAIN.has(answer.status), told };
  } catch {
    return { ok: false, later: true, told: null };
  }
}

const lost = () => ({ ok: false, later: false,
  told: { what: "The line before it was not taken, so its station is not known.", do: "Type it again at its station." } });

// The pause grows from one second to thirty; a line typed meanwhile is tried at once and does not make it longer.
function later({ line, count, told }) {
  wait = Math.max(wait, 1000);
  timer = setTimeout(() => {
    wait = Math.min(30000, wait * 2);
    pump();
  }, wait);
  tell("line:away", { line, count, what: told?.what || "", lasts: ready?.lasts ?? true });
}

// Out of the box, or aside; the line that follows it gets its station.
function settle(state, item, { ok, told }) {
  const first = state.waiting.findIndex((one) => one.n === item.n);
  if (first < 0) return;
  state.waiting.splice(first, 1);
  if (!ok) state.aside.push({ ...item, what: told?.what || "It was not taken.", do: told?.do || "" });
  const next = state.waiting.findIndex((one) => one.hand === item.hand && one.job === item.job);
  if (next < 0 || state.waiting[next].body || !ok) return;
  const { characteristic, place } = told.next || item.sent;
  const follower = state.waiting[next];
  state.waiting[next] = sealed({ ...follower, sent: { ...follower.sent, characteristic, place } }, follower.n);
}

function arrived(item, { ok, told }) {
  if (!ok) showAside();
  if (!mine.delete(item.sent.id)) return;
  tell(ok ? "line:answered" : "line:refused", { line: item.sent.line, item, ...told });
}

// A tab that slept may have missed an answer.
function reconcile(lines) {
  const there = new Set(lines.map((item) => item.sent.id));
  for (const item of lines) if (isMine(item)) mine.set(item.sent.id, item);
  for (const [id, item] of mine) if (item.n && !there.has(id)) mine.delete(id);
}

// ---- set aside ----

async function showAside() {
  const own = await box;
  const { aside } = await own.read();
  tell("lines:aside", { lines: aside, lasts: own.lasts });
}

export async function drop(n) {
  await (await box).change((state) => {
    state.aside = state.aside.filter((item) => item.n !== n);
  });
  others.postMessage({ aside: true });
  showAside();
}

// Under a new name: the old one may stand for something else by now. It goes last, with the time it was typed at.
export async function sendAgain(n, station) {
  await (await box).change((state) => {
    const item = state.aside.find((one) => one.n === n);
    if (!item) return;
    state.aside = state.aside.filter((one) => one !== item);
    state.seq += 1;
    const place = item.sent.place ? {} : station;
    const sent = { ...item.sent, ...place, id: freshName("r-"), device_seq: 0 };
    state.waiting.push(sealed({ ...item, hand, sent }, state.seq));
  });
  others.postMessage({ aside: true });
  showAside();
  pump();
}

// ---- begun ----

others.onmessage = ({ data }) => {
  if (data.aside) showAside();
  if (!data.item) return;
  arrived(data.item, data.answer);
  if (!waiting()) tell("lines:empty", null);
};
addEventListener("online", () => {
  wait = 0;
  pump();
});
addEventListener("pageshow", (event) => event.persisted && pump());
addEventListener("beforeunload", (event) => {
  if (waiting() && ready && !ready.lasts) event.preventDefault(); // what waits would be gone
});

export async function begin() {
  ready = await box;
  await moveOld(ready, { hand, sealed });
  const { waiting: lines } = await ready.read();
  reconcile(lines);
  showAside();
  if (waiting()) tell("lines:found", [...mine.values()]);
  if (lines.length) pump();
}
