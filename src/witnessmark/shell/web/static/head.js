// The head sheet: arrows move the pick from valve to valve; pressing the picked one turns its values over.

import { turnTo } from "./turn.js";

const page = () => document.getElementById("main");

async function pick(address) {
  try {
    if (!(await turnTo(address))) return;
  } catch {
    location.assign(address); // the browser then says itself what is the matter
    return;
  }
  history.replaceState(null, "", address);
  page().querySelector("thead [aria-current]")?.focus({ preventScroll: true });
}

document.addEventListener("click", (event) => {
  if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  const link = event.target.closest("[data-valve]");
  if (!link) return;
  event.preventDefault();
  pick(link.href);
});

document.addEventListener("keydown", (event) => {
  const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!step || event.altKey || event.ctrlKey || event.metaKey) return;
  if (event.target.closest("input, select, textarea, .grid-scroll.wide, nav")) return;
  const columns = [...page().querySelectorAll("thead [data-valve]")];
  const at = columns.findIndex((link) => link.hasAttribute("aria-current"));
  const next = columns[at < 0 ? (step > 0 ? 0 : columns.length - 1) : at + step];
  if (!next) return;
  event.preventDefault();
  // Moving keeps what is shown, face or values: only pressing the picked valve turns it over.
  const address = new URL(next.href);
  pick(address.pathname + address.search);
});
