// Lines on their way to the store: first in, first out, one after another, kept on this device until acknowledged.
//
// A line knows the station it was typed at only when the hand moved there; else it follows the line before it, so that
// a burst of a gauge walks the route. What was sent once is sent again with the same name and the same bytes.

import { at, api } from "./sheet.js";
import { device, freshName, recall } from "./remember.js";

const KEEP = `lines:${at.job}`;
const COUNT = "lines:count";
const MOST = 500; // lines that may wait; a head has some 400 stations
const lines = load();
let pumping = false;
let wait = 0;

function load() {
  try {
    return JSON.parse(localStorage.getItem(KEEP) || "[]");
  } catch {
    localStorage.setItem(`${KEEP}:unread`, localStorage.getItem(KEEP));
    return [];
  }
}

function save() {
  localStorage.setItem(KEEP, JSON.stringify(lines));
}

function ordinal() {
  const next = Number(localStorage.getItem(COUNT) || "0") + 1;
  localStorage.setItem(COUNT, String(next));
  return next;
}

export const waiting = () => lines.length;

function tell(name, detail) {
  document.dispatchEvent(new CustomEvent(name, { detail }));
}

// `more` may hold supersedes, reason and, where the hand moved, characteristic and place.
export function put(line, more = {}) {
  if (lines.length >= MOST) {
    tell("line:refused", { line, what: `${MOST} lines wait for the store.`, do: "Let them go first." });
    return;
  }
  lines.push({ id: freshName("r-"), device: device(), device_seq: ordinal(), at: new Date().toISOString(), by: recall("by"),
    line, round: at.round, gauge: at.gauge || null,
    temperature: at.part_at ? { part: at.part_at } : null, ...more });
  save();
  tell("line:waiting", { line });
  pump();
}

// The body is fixed at the first attempt: place and all.
function fixed(item) {
  if (!item.place) {
    item.characteristic = at.characteristic;
    item.place = at.place;
    save();
  }
  return JSON.stringify(item);
}

export async function pump() {
  if (pumping) return;
  pumping = true;
  while (lines.length) {
    const item = lines[0];
    const answer = await post(fixed(item));
    if (answer.later) {
      wait = Math.min(8000, (wait || 500) * 2);
      tell("line:away", { line: item.line, count: lines.length, what: answer.told?.what || "" });
      setTimeout(pump, wait);
      break;
    }
    wait = 0;
    lines.shift();
    save();
    tell(answer.ok ? "line:answered" : "line:refused", { line: item.line, item, ...answer.told });
  }
  pumping = false;
  if (!lines.length) tell("lines:empty", null);
}

// `later`: the store did not take it; what it said, if anything, is told while the line waits.
async function post(body) {
  try {
    const answer = await fetch(api("line"), { method: "POST", headers: { "Content-Type": "application/json" }, body });
    const told = await answer.json();
    return { ok: answer.ok, later: answer.status >= 500, told };
  } catch {
    return { ok: false, later: true, told: null };
  }
}

addEventListener("online", pump);
