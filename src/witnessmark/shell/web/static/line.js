// What is seen of the entry line: the text with its bad part waved under, the echo, and what is asked below it.

const line = document.getElementById("line");
const raw = document.getElementById("raw");
const echo = document.getElementById("echo");
const under = document.getElementById("under");
const act = document.getElementById("act");

export function show(text, span) {
  if (line.value !== text) line.value = text;
  const [from, to] = span || [text.length, text.length];
  raw.replaceChildren(text.slice(0, from));
  if (span) {
    const bad = document.createElement("u");
    bad.textContent = text.slice(from, to) || "\u00a0";
    raw.append(bad, text.slice(to));
  }
  raw.dataset.length = text.length > 16 ? "long" : text.length > 7 ? "some" : "few";
}

// The echo is a status line: the first word is what came, the rest what became of it.
export function tell(first, rest, look = "") {
  echo.className = `echo ${look}`;
  const strong = document.createElement("b");
  strong.textContent = first;
  echo.replaceChildren(...(first ? [strong, " "] : []), rest);
}

// Under the line: a sentence with a sign, and answers as keys: [what the key sends, its hint, its word].
export function ask(sign, sentence, answers = []) {
  const p = document.createElement("p");
  const mark = document.createElement("span");
  mark.className = "qm";
  mark.textContent = sign;
  const said = document.createElement("span");
  said.textContent = sentence;
  p.append(mark, said);
  const keys = document.createElement("div");
  keys.className = "ans";
  keys.append(...answers.map(([sends, hint, word]) => {
    const key = document.createElement("button");
    key.type = "button";
    key.className = "key small";
    key.dataset.key = sends;
    const small = document.createElement("i");
    small.textContent = hint;
    key.append(small, word);
    return key;
  }));
  under.replaceChildren(p, ...(answers.length ? [keys] : []));
  under.hidden = false;
  act.dataset.asking = answers.length > 3 ? "many" : answers.length ? "yes" : "told";
}

export function calm() {
  under.hidden = true;
  under.replaceChildren();
  act.dataset.asking = "";
}
