// Where the bench page stands (job, characteristic, place, round, gauge) and how its fields are read anew.

import { device, freshName, recall } from "./remember.js";

const main = document.getElementById("main");

export const at = {
  job: main.dataset.job,
  characteristic: main.dataset.characteristic,
  place: main.dataset.place,
  round: main.dataset.round,
  gauge: new URLSearchParams(location.search).get("gauge") || "",
  part_at: new URLSearchParams(location.search).get("part_at") || "",
  open: "",
};
let reading = null; // the fetch of fields that is under way
let seen = Number(main.dataset.seq);

export const seq = () => seen;
export const api = (tail) => `/api/jobs/${encodeURIComponent(at.job)}/${tail}`;

// What the present station says of itself: read from the page, never guessed here.
export const station = () => document.getElementById("station").dataset;

function query() {
  const asked = new URLSearchParams();
  for (const name of ["characteristic", "place", "round", "gauge", "part_at", "open"]) {
    if (at[name]) asked.set(name, at[name]);
  }
  return asked;
}

function remember() {
  const asked = query();
  asked.delete("open");
  history.replaceState(null, "", `?${asked}`);
}

export function stop() {
  if (reading) reading.abort();
  reading = null;
}

// Reads the fields of the present place and puts them where the old ones were. A later wish cancels an earlier one.
export async function refresh() {
  stop();
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
  const focus = document.activeElement?.id;
  // What is half typed in a blank outlives a reading that comes meanwhile.
  const blanks = [...document.querySelectorAll("#what input")].map((blank) => [blank.id, blank.value]);
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
  if (focus && document.activeElement?.id !== focus) document.getElementById(focus)?.focus();
  keepInView();
  say("sheet:swapped", null);
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
  const place = document.querySelector("#station b");
  if (place && stopAt.name) {
    place.textContent = stopAt.name;
    document.querySelector("#station span").textContent = stopAt.detail || "";
    document.querySelector("#station em").textContent = stopAt.of > 1 ? `${stopAt.n} of ${stopAt.of}` : "";
  }
}

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
