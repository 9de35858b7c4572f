// The assembly sheet: the hand stays on the key, the step of now in sight, and a second touch within a moment signs nothing.

import "./turn.js";

const BOUNCE = 400; // ms in which a key that bounces, or a hand that strikes twice, is one stroke

const page = () => document.getElementById("main");
let shown = performance.now();
let sent = false;

document.addEventListener("submit", (event) => {
  if (sent || performance.now() - shown < BOUNCE) event.preventDefault();
  else sent = true;
});
window.addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload();
});

function settle() {
  shown = performance.now();
  sent = false;
  const list = page().querySelector(".list");
  const now = list.querySelector(".steps-of [aria-current]");
  if (now) list.scrollTop = now.offsetTop - list.clientHeight / 2; // only where the list scrolls by itself
  page().querySelector("[autofocus]")?.focus({ preventScroll: true });
}

document.addEventListener("sheet:swapped", settle);
settle();
