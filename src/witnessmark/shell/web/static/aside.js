// Lines that the store did not take, one at a time under the entry line: what it said, and two keys.

import { at } from "./sheet.js";
import { drop, sendAgain } from "./outbox.js";

const queue = document.getElementById("queue");
const line = document.getElementById("line");

function key(word, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "key small";
  made.textContent = word;
  made.addEventListener("click", () => {
    line.focus({ preventScroll: true }); // the next gauge burst must not press this key
    act();
  });
  return made;
}

function said(item, count) {
  const p = document.createElement("p");
  const first = document.createElement("b");
  first.textContent = item.sent.line.trim() || "an empty line";
  const where = item.where.length ? ` at ${item.where.slice(0, 2).join(" ")}` : "";
  const job = item.job === at.job ? "" : `, job ${item.job}`;
  const more = count > 1 ? ` (1 of ${count} not taken)` : "";
  p.append(first, `${where}${job} was not taken${more}: ${item.what} ${item.do}`.trimEnd());
  return p;
}

document.addEventListener("lines:aside", (event) => {
  const { lines } = event.detail;
  queue.hidden = !lines.length;
  document.getElementById("act").dataset.queue = lines.length ? "yes" : "";
  if (!lines.length) return;
  const item = lines[0];
  const keys = document.createElement("div");
  keys.className = "ans";
  const here = { characteristic: at.characteristic, place: at.place };
  keys.append(key("send again", () => sendAgain(item.n, here)), key("drop it", () => drop(item.n)));
  queue.replaceChildren(said(item, lines.length), keys);
});
