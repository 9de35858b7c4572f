// Trade words of either side of the Atlantic: a setting of this device. Ids, files and readings never change.

import { keep } from "./remember.js";

const NEXT = { "as written": "american", american: "british", british: "" };

document.addEventListener("click", (event) => {
  const cell = event.target.closest("[data-control=words]");
  if (!cell) return;
  keep("words", NEXT[cell.querySelector("b").textContent] ?? "");
  location.reload();
});
