// A limit, or what a gauge was set to, typed where it is first missed. It stands beside the readings, never before them.

import { at, refresh, remark } from "./sheet.js";

const without = new Set(JSON.parse(sessionStorage.getItem(`without:${at.job}`) || "[]"));

// On a phone the blanks would take the room of the pad: they open when they are wanted.
function show() {
  const small = matchMedia("(max-width:640px)").matches;
  for (const one of document.querySelectorAll("details.limitless")) one.open = !small;
  const box = document.getElementById("limitless");
  if (box && without.has(box.dataset.name)) box.remove();
}

document.addEventListener("click", (event) => {
  if (!event.target.closest("[data-without]")) return;
  without.add(document.getElementById("limitless").dataset.name);
  sessionStorage.setItem(`without:${at.job}`, JSON.stringify([...without]));
  show();
});

// What each form sends besides what is typed into it.
const FORMS = {
  "limit-form": ({ characteristic, place }) => ["limit", { characteristic, place }, "limit-told"],
  "setting-form": ({ gauge }) => ["setting", { gauge }, "setting-told"],
};

document.addEventListener("submit", async (event) => {
  const form = FORMS[event.target.id];
  if (!form) return;
  event.preventDefault();
  const [kind, known, answer] = form(event.target.closest("details").dataset);
  const said = document.getElementById(answer);
  const typed = Object.fromEntries(new FormData(event.target));
  if (kind === "setting" && !typed.set_with) delete typed.set_with;
  said.textContent = await remark(kind, { ...known, ...typed });
  said.hidden = !said.textContent;
  if (!said.textContent) refresh();
});
document.addEventListener("sheet:swapped", show);
show();
