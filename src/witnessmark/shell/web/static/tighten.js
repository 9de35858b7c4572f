// The tightening sheet: a second touch within a moment turns no second bolt, and what another bench does is shown.

import "./turn.js";

const BOUNCE = 400; // ms in which a key that bounces, or a hand that strikes twice, is one stroke

const page = () => document.getElementById("main");
let shown = performance.now();
let sent = false;

document.addEventListener("submit", (event) => {
  const line = event.target.querySelector("[name=line]:not([type=hidden])");
  const bare = !line || !line.value; // what was typed is meant, however quick the hand
  if (sent || (bare && performance.now() - shown < BOUNCE)) event.preventDefault();
  else sent = true;
});

// A page that comes back from the browser's memory may be stale: read it again.
window.addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload();
});

function hand() {
  page().querySelector("[autofocus]")?.focus({ preventScroll: true });
}

// turn.js swaps the sheet as soon as the record moves. What is typed stays if the bolt is still the same.
let typed = ["", ""];
document.addEventListener("input", (event) => {
  if (event.target.name === "line") typed = [page().dataset.saw, event.target.value];
});
document.addEventListener("sheet:swapped", () => {
  shown = performance.now();
  sent = false;
  const line = page().querySelector("[name=line]:not([type=hidden])");
  if (line && typed[0] === page().dataset.saw) line.value = typed[1];
  hand();
});
hand();
