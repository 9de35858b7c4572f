// What others write on the same job: a stream of what was stored, taken up again where it broke off. Whatever is new
// makes the fields be read again; who wrote it is said beside the echo.

import { api, seq, soon } from "./sheet.js";
import { pump, waiting } from "./outbox.js";
import { device } from "./remember.js";

const SILENT = 8000; // milliseconds; the store beats once a second, so this stream is cut somewhere
const AGAIN = 2000;
const AWAY = 3000; // a break shorter than this is not worth a word

let stream = null;
let last = seq();
let heard = 0;
let timer = 0;
let away = 0;

function fresh() {
  heard = performance.now();
  clearTimeout(away);
  away = 0;
}

function broken() {
  away = away || setTimeout(() => document.dispatchEvent(new CustomEvent("sheet:away")), AWAY);
  // The browser takes a broken stream up again by itself; one that was refused it does not.
  if (stream?.readyState === EventSource.CLOSED) timer = setTimeout(listen, AGAIN);
}

// While lines of this page wait, the answer to the last of them makes the fields be read.
function due() {
  if (!waiting()) soon();
}

function came(event) {
  fresh();
  last = Math.max(last, Number(event.lastEventId));
  const told = JSON.parse(event.data);
  if (told.says && told.device !== device()) {
    const by = told.by ? `, ${told.by}` : "";
    document.dispatchEvent(new CustomEvent("sheet:other", { detail: `${told.says} by the other tablet${by}` }));
  }
  if (told.seq > seq()) due();
}

// More came than the stream holds: read the sheet again.
function again(event) {
  fresh();
  last = Math.max(last, Number(event.lastEventId) || 0);
  due();
}

function listen() {
  close();
  if (document.hidden) return; // a browser has few connections to one store; a page that nobody sees needs none
  heard = performance.now();
  stream = new EventSource(api(`stream?after=${last}`));
  stream.onopen = () => {
    fresh();
    pump();
  };
  stream.onmessage = came;
  stream.addEventListener("again", again);
  stream.addEventListener("beat", fresh);
  stream.onerror = broken;
}

function close() {
  clearTimeout(timer);
  stream?.close();
  stream = null;
}

setInterval(() => {
  if (stream?.readyState === EventSource.OPEN && performance.now() - heard > SILENT) listen();
}, AGAIN);
document.addEventListener("visibilitychange", listen);
addEventListener("pagehide", close);
addEventListener("pageshow", (event) => event.persisted && listen());
listen();
