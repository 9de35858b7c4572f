// Where the bench page stands (job, characteristic, place, round, gauge) and how its fields are read anew.

import { device, freshName, recall } from "./remember.js";

const main = document.getElementById("main");

export const at = {
  job: main.dataset.job,
  characteristic: main.dataset.characteristic,
  place: main.dataset.place,
  round: main.dataset.round,
  gauge: new URLSearchParams(location.search).get("gauge") || "",
  method: new URLSearchParams(location.search).get("method") || "",
  sheet: new URLSearchParams(location.search).get("sheet") || "",
  part_at: new URLSearchParams(location.search).get("part_at") || "",
  open: "",
};
let reading = null; // the fetch of fields that is under way
let due = 0; // the timer of a reading that is wanted soon
let seen = Number(main.dataset.seq);

export const seq = () => seen;
export const api = (tail) => `/api/jobs/${encodeURIComponent(at.job)}/${tail}`;

// What the present station says of itself: read from the page, never guessed here.
export const station = () => document.getElementById("station").dataset;

function query() {
  const asked = new URLSearchParams();
  for (const name of ["characteristic", "place", "round", "gauge", "method", "sheet", "part_at", "open"]) {
    if (at[name]) asked.set(name, at[name]);
  }
  return asked;
}

function remember() {
  const asked = query();
  asked.delete("open");
  history.replaceState(null, "", `?${asked}`);
}

// A reading of the fields that is broken off by the hand is made up for when the hand rests.
export function stop() {
  if (!reading) return;
  reading.abort();
  reading = null;
  soon(400);
}

export function soon(pause = 100) {
  clearTimeout(due);
  due = setTimeout(refresh, pause);
}

// Reads the fields of the present place and puts them where the old ones were. A later wish cancels an earlier one.
export async function refresh() {
  if (reading) reading.abort();
  clearTimeout(due);
  const mine = new AbortController();
  reading = mine;
  try {
    const answer = await fetch(`/jobs/${encodeURIComponent(at.job)}/bench/fields?${query()}`,
      { signal: mine.signal, headers: { Accept: "text/html, application/json" } });
    const text = await answer.text();
    if (reading !== mine) return;
    reading = null;
    if (answer.ok) swap(text);
    else say("sheet:told", JSON.parse(text).what);
  } catch (reason) {
    if (reason.name === "AbortError") return;
    reading = null;
    say("sheet:away", null);
  }
}

function say(name, detail) {
  document.dispatchEvent(new CustomEvent(name, { detail }));
}

function swap(text) {
  const fresh = new DOMParser().parseFromString(text, "text/html");
  const focus = held(document.activeElement);
  const marked = selection(document.activeElement);
  // What is half typed in a blank outlives a reading that comes meanwhile.
  const blanks = [...document.querySelectorAll("#what input, #choices input")].map((blank) => [blank.id, blank.value]);
  for (const part of fresh.querySelectorAll("[data-swap]")) {
    document.getElementById(part.id)?.replaceWith(document.adoptNode(part));
  }
  for (const [id, value] of blanks) {
    const blank = document.getElementById(id);
    if (blank && value) blank.value = value;
  }
  const told = station();
  seen = Math.max(seen, Number(told.seq));
  at.characteristic = told.characteristic;
  at.place = told.place;
  at.round = told.round;
  document.title = told.title;
  remember();
  keepInView();
  say("sheet:swapped", null); // what was open is opened again, so that it can take the focus
  if (!focus || document.activeElement?.matches(focus)) return;
  const again = document.querySelector(focus);
  again?.focus({ preventScroll: true });
  if (again && marked) again.setSelectionRange(...marked);
}

// How the element that has the focus is found again once it was drawn anew.
function held(element) {
  if (!element || element === document.body) return "";
  if (element.id) return `#${CSS.escape(element.id)}`;
  const names = ["data-key", "data-set", "data-value", "data-control", "data-place", "data-characteristic"];
  const known = names.filter((name) => element.hasAttribute(name));
  return known.map((name) => `[${name}="${CSS.escape(element.getAttribute(name))}"]`).join("");
}

function selection(element) {
  return element?.matches?.("#what input, #choices input")
    ? [element.selectionStart, element.selectionEnd] : null;
}

// The rows do not scroll by hand; the present one and its neighbours are kept in view.
export function keepInView() {
  const rows = document.getElementById("rows");
  const now = rows?.querySelector(".row.now");
  if (!now) return;
  const low = now.offsetTop + 2 * now.offsetHeight - rows.clientHeight;
  rows.scrollTop = Math.max(0, low);
}

// Moves to another station: the head of the entry at once, the fields when they have been read.
export function go(stopAt) {
  Object.assign(at, { characteristic: stopAt.characteristic, place: stopAt.place, open: "" });
  const { name, detail, n, of } = stopAt;
  const words = stopAt.head || (name ? [name, detail || "", of > 1 ? `${n} of ${of}` : ""] : []);
  const parts = document.querySelectorAll("#station b, #station span, #station em");
  words.forEach((word, part) => (parts[part].textContent = word));
}

// The head of the entry as it stands: place, station, count.
export const head = () => [...document.querySelectorAll("#station b, #station span, #station em")].map((one) => one.textContent);

// A remark about what was kept. Gives "" when it is stored, else the sentence that says why not.
export async function remark(kind, body) {
  const stamp = { id: freshName("e-"), device: device(), by: recall("by"), at: new Date().toISOString() };
  try {
    const answer = await fetch(api(kind), { method: "POST", headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ ...stamp, ...body }) });
    if (answer.ok) return "";
    const told = await answer.json();
    return `${told.what} ${told.do}`.trim();
  } catch {
    return "The store does not answer; do it once more when it does.";
  }
}

export function change(values) {
  Object.assign(at, values);
  return refresh();
}
