// What the echo says of lines that wait, of the store being away, and of what others write on the same job.

import { waiting } from "./outbox.js";
import { tell } from "./line.js";

const NOT_LASTING = "nothing is kept on this tablet while it is offline";
const echo = document.getElementById("echo");

document.addEventListener("line:waiting", (event) => {
  const { line, lasts } = event.detail;
  tell(line, lasts ? "not kept yet" : `not kept yet; ${NOT_LASTING}`, "wait");
});
document.addEventListener("line:away", (event) => {
  const { line, count, what, lasts } = event.detail;
  const why = what || "the store does not answer";
  const unkept = lasts ? "" : `; ${NOT_LASTING}`;
  tell(line, (count > 1 ? `and ${count - 1} more wait: ${why}` : `waits: ${why}`) + unkept, "wait");
});
document.addEventListener("sheet:away", () => {
  if (!waiting()) tell("", "The store does not answer; what you type waits here.", "wait");
});
document.addEventListener("sheet:told", (event) => tell("", event.detail));

// Beside what is said of the own line, never in its place; the next own line clears it.
document.addEventListener("sheet:other", (event) => {
  const other = document.createElement("span");
  other.className = "other";
  other.textContent = event.detail;
  echo.querySelector(".other")?.remove();
  echo.append(other);
});
