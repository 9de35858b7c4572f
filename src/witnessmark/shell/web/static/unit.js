// Shown in millimetre or inch: a display setting of this device. It never says anything about what a number means.

import { keep } from "./remember.js";

export function otherUnit() {
  const next = document.body.dataset.unit === "in" ? "mm" : "in";
  document.body.dataset.unit = next;
  keep("unit", next);
  // A page that can redraw in place takes this on itself; any other is read again.
  const handled = !document.dispatchEvent(new CustomEvent("sheet:unit", { cancelable: true, detail: next }));
  if (!handled) location.reload();
}

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-control=unit]")) otherUnit();
});
