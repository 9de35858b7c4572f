// What others write on the same job: whatever is new makes the fields be read again; who wrote it is said beside the
// echo.

import { at, seq, soon } from "./sheet.js";
import { pump, waiting } from "./outbox.js";
import { device } from "./remember.js";
import { follow } from "./stream.js";

const tell = (name, detail = null) => document.dispatchEvent(new CustomEvent(name, { detail }));

// While lines of this page wait, the answer to the last of them makes the fields be read.
function due() {
  if (!waiting()) soon();
}

function came(told) {
  if (told.says && told.device !== device()) {
    const by = told.by ? `, ${told.by}` : "";
    tell("sheet:other", `${told.says} by the other tablet${by}`);
  }
  if (told.seq > seq()) due();
}

follow(at.job, seq(), { came, again: due, opened: pump, away: () => tell("sheet:away") });
