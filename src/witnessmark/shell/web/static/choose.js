// Cells of the title block that change something: their choices stand in the act field, in place of the pad.

import { change } from "./sheet.js";
import { keep } from "./remember.js";

const panels = () => document.querySelectorAll("#act [data-panel]");
let opened = "";

export function close() {
  opened = "";
  show();
}

function show() {
  for (const panel of panels()) panel.hidden = panel.dataset.panel !== (opened || "entry");
  for (const cell of document.querySelectorAll("[data-control]")) {
    if (cell.hasAttribute("aria-expanded")) cell.setAttribute("aria-expanded", String(cell.dataset.control === opened));
  }
}

function open(name) {
  opened = name;
  show();
  document.querySelector(`[data-panel="${name}"]`)?.querySelector("[aria-checked=true],input,button")?.focus();
}

function pick(name, value) {
  close();
  if (name === "by") keep("by", value.trim());
  if (name === "stray") {
    keep("stray", value);
    document.body.dataset.stray = value;
  }
  if (name === "order") keep("order", value);
  const more = name === "characteristic" ? { place: "", method: "" } : {};
  change(["by", "stray", "order"].includes(name) ? {} : { [name]: value.trim(), ...more });
  document.getElementById("line").focus({ preventScroll: true });
}

document.addEventListener("click", (event) => {
  const cell = event.target.closest("[data-control][aria-controls]");
  if (cell) {
    if (opened === cell.dataset.control) close();
    else open(cell.dataset.control);
    return;
  }
  const choice = event.target.closest("[data-set]");
  if (choice) pick(choice.dataset.set, choice.dataset.value);
  if (event.target.closest("[data-close]")) close();
});
document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-sets]");
  if (!form) return;
  event.preventDefault();
  pick(form.dataset.sets, form.elements.value.value);
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && opened) {
    close();
    document.getElementById("line").focus({ preventScroll: true });
  }
});
document.addEventListener("sheet:swapped", show);
