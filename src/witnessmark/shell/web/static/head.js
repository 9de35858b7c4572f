// The head sheet: arrows move the pick from valve to valve, Enter turns to its values; the sheet redraws in place.

const page = () => document.getElementById("main");

let asked = 0; // only the last answer counts when the hand is faster than the page

async function turnTo(address) {
  const mine = ++asked;
  let text;
  try {
    const answer = await fetch(address, { headers: { accept: "text/html" } });
    if (!answer.ok) throw new Error(answer.status);
    text = await answer.text();
  } catch {
    location.assign(address); // the browser then says itself what is the matter
    return;
  }
  if (mine !== asked) return;
  const fresh = new DOMParser().parseFromString(text, "text/html");
  for (const id of ["main", "titleblock"]) {
    const now = document.getElementById(id);
    const next = fresh.getElementById(id);
    if (now && next) now.replaceWith(document.adoptNode(next));
  }
  history.replaceState(null, "", address);
  document.dispatchEvent(new CustomEvent("sheet:swapped"));
  page().querySelector("thead [aria-current]")?.focus({ preventScroll: true });
}

function columns() {
  return [...page().querySelectorAll("thead [data-valve]")];
}

document.addEventListener("click", (event) => {
  if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  const link = event.target.closest("[data-valve]");
  if (!link) return;
  event.preventDefault();
  turnTo(link.href);
});

document.addEventListener("keydown", (event) => {
  const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
  if (!step || event.altKey || event.ctrlKey || event.metaKey) return;
  if (event.target.closest("input, select, textarea, .grid-scroll.wide, nav")) return;
  const all = columns();
  if (!all.length) return;
  const at = all.findIndex((link) => link.hasAttribute("aria-current"));
  const next = all[at < 0 ? (step > 0 ? 0 : all.length - 1) : at + step];
  if (!next) return;
  event.preventDefault();
  turnTo(next.href);
});
