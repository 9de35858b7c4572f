// Day or night: the system's wish first, then the hand's, remembered per device.

import { keep } from "./remember.js";

const root = document.documentElement;
const system = matchMedia("(prefers-color-scheme: dark)");

function isNight() {
  return root.dataset.light ? root.dataset.light === "night" : system.matches;
}

function say() {
  const cell = document.querySelector("[data-control=light]");
  if (cell) cell.setAttribute("aria-label", `light: ${isNight() ? "night" : "day"}, press to change`);
}

document.addEventListener("click", (event) => {
  if (!event.target.closest("[data-control=light]")) return;
  root.dataset.light = isNight() ? "day" : "night";
  keep("light", root.dataset.light);
  say();
});
document.addEventListener("sheet:swapped", say);
system.addEventListener("change", say);
say();
