// The entry line: it takes every key that nothing else has focus for, from hand, pad or gauge. A gauge's data key alone
// is enough: digits, then Enter. What becomes of a line is said when the store has answered, never before.

import { at, go, head, keepInView, refresh, remark, station, stop } from "./sheet.js";
import { begin, put, waiting } from "./outbox.js";
import { after, isReading, walksOn } from "./ahead.js";
import { ask, calm, show, tell } from "./line.js";
import { close } from "./choose.js";
import { otherUnit } from "./unit.js";
import { pad } from "./pad.js";
import { reach } from "./reach.js";

const line = document.getElementById("line");
const REASONS = ["misread", "wrong place", "dirt", "unit", "other"];
const MOST = 120; // characters in one line

let text = "";
let stale = false; // what stands in the line was answered; the next first character empties it
let span = null; // the part of the line that could not be read
let moved = false; // the hand chose this station
let unsure = false; // only the answer to the line before tells where the next one belongs
let asked = null; // the question that stands under the line
let corrected = null; // the correction that waits for one digit
let noting = null; // the next line is a note about this
let leaving = null; // where the hand is when it asks for the next question
let back = null; // where it was before it jumped to one

const here = () => ({ characteristic: at.characteristic, place: at.place });
const draw = () => show(text, span);

// ---- typing ----

function type(characters) {
  if (stale) clear();
  if (text.length + characters.length > MOST) return;
  span = null;
  text += characters;
  stop();
  draw();
}

function rub() {
  stale = false;
  span = null;
  text = text.slice(0, -1);
  if (!text) clear();
  draw();
}

function clear() {
  text = "";
  stale = false;
  span = null;
  if (!corrected) calm();
  draw();
}

function sign() {
  if (stale) clear();
  text = text.startsWith("-") ? text.slice(1) : `-${text.replace(/^\+/, "")}`;
  draw();
}

// ---- sending ----

function keepLine() {
  const typed = stale ? "" : text;
  const bare = typed.trim();
  if (!bare) return; // a bounced data key must not skip a place
  if (corrected && /^[1-5]$/.test(bare)) giveReason(bare);
  else if (noting) note(bare);
  else if (bare === "/") {
    clear();
    otherUnit();
  } else send(typed);
}

// The hand walks on at once; the store's answer has the last word once nothing waits any more.
function walk(typed) {
  const next = walksOn(typed) && !unsure ? after(here()) : null;
  unsure = !next;
  if (next) go(next);
}

function send(typed, more = {}) {
  const sent = { ...more };
  const station = unsure && !moved && waiting() ? null : here();
  const where = station ? head() : [];
  // A number typed on a row that the hand went to, and that has a reading, corrects that reading.
  // Whether one stands there, the store knows better than a page that is still being drawn.
  if (moved && isReading(typed)) sent.corrects = true;
  if (asked && /^\s*\*\d\s*$/.test(typed)) sent.question = asked;
  if (typed.trim() === "*0") leaving = here();
  moved = false;
  asked = null;
  corrected = null;
  stop();
  clear();
  unsure = !station;
  put(typed, station, sent, where);
  walk(typed);
}

async function giveReason(digit) {
  const reading = corrected;
  corrected = null;
  clear();
  const told = await remark("reason", { reading, digit });
  tell(told ? "" : REASONS[digit - 1], told || "kept as the reason", told ? "" : "kept");
}

async function note(words) {
  const about = noting;
  const told = await remark("note", { about, text: words });
  noting = told ? about : null;
  if (told) ask("!", told);
  else {
    clear();
    tell("", "note kept", "kept");
  }
}

// ---- what the store said ----

const SAID = {
  kept: (told) => tell("", told.echo, "kept"),
  done: (told) => tell("", told.echo, "kept"),
  nothing: () => undefined,
  unit: () => otherUnit(),
  repeat: (told) => tell("", told.echo, "kept"),
  note: (told) => {
    noting = at.place;
    tell("", told.echo, "kept");
    ask("…", "Type the note, then Enter. Esc leaves it.");
  },
  asked: (told) => tell("", told.echo, "kept"),
  which: (told) => stays(told, "?", told.detail || told.question.text, answersOf(told.question)),
  unread: (told) => stays(told, "!", told.detail, []),
  refused: (told) => stays(told, "!", told.detail, []),
};

const answersOf = (question) => question.answers.map((one, n) => [`*${n + 1}`, `*${n + 1}`, one.label]);

// The text stays in the line, unless the next one is being typed or on its way.
function stays(told, sign, sentence, answers) {
  tell("", told.echo || told.detail, "");
  if ((text && !stale) || waiting()) return;
  text = told.line;
  stale = true;
  span = told.span;
  asked = answers.length ? told.reading : null;
  ask(sign, sentence, answers);
  draw();
}

function answered(event) {
  const told = event.detail;
  const jumped = told.line.trim() === "*0";
  if (jumped && told.status === "refused" && back) {
    go(back);
    back = null;
    moved = true;
    tell("", "back where you were", "kept");
    return;
  }
  (SAID[told.status] || SAID.refused)(told);
  settled(told);
  if (jumped && told.status === "done") back = back || leaving;
  if (told.correction && told.status === "kept" && !waiting()) askReason(told);
}

// Where the hand stands once all is answered: where the store says, unless the hand itself has gone elsewhere.
function settled(told) {
  if (waiting()) return;
  unsure = false;
  const { characteristic, place } = told.item.sent;
  if (!moved && place) go(told.next || { characteristic, place, head: told.item.where });
}

function askReason(told) {
  corrected = told.reading;
  ask("?", `${told.line.trim()} stands instead. Why? One digit, then Enter; a number goes on measuring.`,
    REASONS.map((word, n) => [`!${n + 1}`, `${n + 1}`, word]));
}

document.addEventListener("line:refused", (event) => {
  tell(event.detail.line, "was not taken and is set aside");
  if (!waiting()) unsure = false; // the walk stays where the hand is: the line keeps its own station
});
document.addEventListener("line:unkept", (event) => {
  const { what, line: sent, item } = event.detail;
  stop(); // fields that are on their way belong to the station after it
  if (item.sent.place) go({ ...item.sent, head: item.where });
  stays({ line: sent, echo: "", detail: what, span: null }, "!", what, []);
});
// What an earlier turn of this page left waiting: the hand stands where the last of it leads.
document.addEventListener("lines:found", (event) => {
  const { sent, where } = event.detail.at(-1);
  unsure = !sent.place;
  if (sent.place) go({ ...sent, head: where });
  walk(sent.line);
  refresh();
});
document.addEventListener("line:answered", answered);
document.addEventListener("lines:empty", () => refresh());
document.addEventListener("sheet:unit", (event) => {
  event.preventDefault();
  refresh();
});

// ---- moving ----

function jump(place, characteristic) {
  moved = true;
  back = null;
  corrected = null;
  unsure = false;
  clear();
  go({ characteristic, place });
  refresh();
}

function move(way) {
  const links = station();
  if (links[way]) jump(links[way], links[`${way}Characteristic`]);
}

document.addEventListener("click", (event) => {
  const row = event.target.closest("a[data-place]");
  if (!row || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  if (row.matches(".row.now")) {
    at.open = at.open ? "" : "budget";
    refresh();
  } else jump(row.dataset.place, row.dataset.characteristic || at.characteristic);
});

const ARROWS = { ArrowUp: "up", ArrowDown: "down", ArrowLeft: "previous", ArrowRight: "next" };
const writes = (element) => element.matches?.("input,textarea,select") && element !== line;

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing || writes(event.target)) return;
  if (event.target !== line && document.body.dataset.stray === "off") return;
  const pressed = event.target.closest?.("button,a");
  if (event.key.length === 1 && !(event.key === " " && pressed)) {
    event.preventDefault();
    // A gauge's burst must not end by pressing whatever key had focus.
    line.focus({ preventScroll: true });
    close();
    type(event.key);
  } else if (event.key === "Enter" && !pressed) {
    event.preventDefault();
    keepLine();
  } else if (event.key === "Backspace") {
    event.preventDefault();
    rub();
  } else if (event.key === "Escape") {
    corrected = null;
    noting = null;
    clear();
    if (at.open) {
      at.open = "";
      refresh();
    }
  } else if (ARROWS[event.key]) {
    event.preventDefault();
    move(ARROWS[event.key]);
  }
});

reach(line, writes, {
  before: () => (stale ? "" : text),
  stood: () => (stale ? text : ""),
  clear,
  ended(part) {
    text = part.slice(0, MOST);
    keepLine();
  },
  rest(part) {
    text = part.slice(0, MOST);
    draw();
  },
});

// ---- the pad ----

const KEYS = { keep: keepLine, rub, sign };

pad((name) => {
  close();
  if (KEYS[name]) KEYS[name]();
  else if (name.startsWith("!")) giveReason(name.slice(1));
  else if (/^\*\d?$|^-$|^=/.test(name)) send(name.replace(/^=/, ""));
  else type(name);
});

document.addEventListener("sheet:swapped", () => line.setAttribute("aria-label", `entry line, ${station().unit}`));
keepInView();
draw();
begin();
