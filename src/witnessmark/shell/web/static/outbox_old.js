// Lines that an older page left in localStorage, moved into the box with the names and bytes they were made with.

const COUNT = "lines:count";

function listed(key) {
  try {
    return JSON.parse(localStorage.getItem(key) || "[]");
  } catch {
    localStorage.setItem(`unread:${key}`, localStorage.getItem(key)); // nobody can read it, nobody throws it away
    return [];
  }
}

function keys() {
  const all = [...Array(localStorage.length).keys()].map((n) => localStorage.key(n));
  return all.filter((key) => key.startsWith("lines:") && key !== COUNT && !key.endsWith(":unread"));
}

export async function moveOld(box, { hand, sealed }) {
  const counted = Number(localStorage.getItem(COUNT) || "0");
  const found = keys();
  if (!found.length && !counted) return;
  await box.change((state) => {
    state.seq = Math.max(state.seq, counted);
    const known = new Set([...state.waiting, ...state.aside].map((item) => item.sent.id));
    for (const key of found) {
      for (const sent of listed(key)) {
        if (known.has(sent.id)) continue;
        state.seq += 1;
        state.waiting.push(sealed({ n: 0, hand, job: key.slice("lines:".length), where: [], sent, body: null }, state.seq));
      }
    }
  });
  for (const key of [...found, COUNT]) localStorage.removeItem(key);
}
