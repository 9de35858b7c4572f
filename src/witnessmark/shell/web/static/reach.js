// Whatever reaches the entry line another way: pasted, dictated, sent by a keyboard that names no keys.

export function reach(line, writes, { before, stood, clear, ended, rest }) {
  // Each line that is ended in a text is sent, the rest stays in the line.
  function lines(whole) {
    const parts = whole.split(/\r\n|\r|\n/);
    const left = parts.pop();
    for (const part of parts) ended(part);
    rest(left);
  }

  line.addEventListener("input", () => {
    const had = stood(); // what was answered and still stands there
    const whole = had && line.value.startsWith(had) ? line.value.slice(had.length) : line.value;
    clear();
    lines(whole);
  });
  document.addEventListener("paste", (event) => {
    if (writes(event.target)) return;
    event.preventDefault();
    const had = before();
    clear();
    lines(had + event.clipboardData.getData("text"));
  });
}
