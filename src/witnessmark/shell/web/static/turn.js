// A sheet read again in place: what it shows is swapped, the hand stays where it was. Start and head sheets use it, and
// follow what others write on the same job.

import { follow } from "./stream.js";

let asked = 0; // only the last answer counts when the hand is faster than the page

const PARTS = ["main", "titleblock", "jobline"];

async function fetched(address) {
  const answer = await fetch(address, { headers: { accept: "text/html" } });
  if (!answer.ok) throw new Error(String(answer.status));
  return new DOMParser().parseFromString(await answer.text(), "text/html");
}

// Resolves true when the sheet was swapped, false when a later turn overtook it; rejects when the page cannot be had.
export async function turnTo(address) {
  const mine = ++asked;
  const fresh = await fetched(address);
  if (mine !== asked) return false;
  for (const id of PARTS) {
    const now = document.getElementById(id);
    const next = fresh.getElementById(id);
    if (now && next) now.replaceWith(document.adoptNode(next));
  }
  document.dispatchEvent(new CustomEvent("sheet:swapped"));
  return true;
}

// The link that had the focus, found again by where it leads and by its column.
function heldBy(link) {
  const valve = link?.dataset?.valve;
  if (valve) return `thead [data-valve="${valve}"]`;
  const href = link?.getAttribute?.("href");
  return href ? `[href="${CSS.escape(href)}"]` : "";
}

async function again() {
  const held = heldBy(document.activeElement);
  try {
    if ((await turnTo(location.href)) && held) document.querySelector(held)?.focus({ preventScroll: true });
  } catch {
    // The server is away: what is shown stays, and the stream tells as soon as it is back.
    return;
  }
}

function begin() {
  const { job, seq } = document.getElementById("main").dataset;
  if (!job) return;
  let due = 0;
  const soon = () => {
    clearTimeout(due);
    due = setTimeout(again, 400);
  };
  follow(job, Number(seq), { came: soon, again: soon });
}

begin();
