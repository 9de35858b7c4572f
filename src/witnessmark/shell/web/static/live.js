// What others write on the same job: a stream of what was stored. Whatever is new makes the fields be read again.

import { api, refresh, seq } from "./sheet.js";
import { waiting } from "./queue.js";

let due = 0;

function soon() {
  clearTimeout(due);
  due = setTimeout(() => {
    if (!waiting()) refresh();
  }, 120);
}

function listen() {
  const stream = new EventSource(api(`stream?after=${seq()}`));
  stream.onmessage = (event) => {
    if (Number(event.lastEventId) > seq()) soon();
  };
  // More came than the stream holds: read the sheet again.
  stream.addEventListener("again", soon);
  addEventListener("pagehide", () => stream.close());
}

listen();
