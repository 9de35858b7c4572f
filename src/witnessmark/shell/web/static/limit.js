// A limit typed where it is first missed. It stands beside the readings, never before them.

import { at, refresh, remark } from "./sheet.js";

const without = new Set(JSON.parse(sessionStorage.getItem(`without:${at.job}`) || "[]"));

function show() {
  const box = document.getElementById("limitless");
  if (!box) return;
  if (without.has(box.dataset.name)) box.remove();
  // On a phone the blanks would take the pad's room: they open when they are wanted.
  else if (matchMedia("(max-width:640px)").matches) box.open = false;
}

document.addEventListener("click", (event) => {
  if (!event.target.closest("[data-without]")) return;
  without.add(document.getElementById("limitless").dataset.name);
  sessionStorage.setItem(`without:${at.job}`, JSON.stringify([...without]));
  show();
});

document.addEventListener("submit", async (event) => {
  if (event.target.id !== "limit-form") return;
  event.preventDefault();
  const box = document.getElementById("limitless");
  const said = document.getElementById("limit-told");
  const typed = Object.fromEntries(new FormData(event.target));
  said.textContent = await remark("limit", { characteristic: box.dataset.characteristic, place: box.dataset.place, ...typed });
  said.hidden = !said.textContent;
  if (!said.textContent) refresh();
});
document.addEventListener("sheet:swapped", show);
show();
