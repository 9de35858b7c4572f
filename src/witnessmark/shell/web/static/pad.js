// The touch pad. A key acts when it is let go inside itself.
//
// Gloves and speed both: a touch of the *same* key sooner than 80 ms after its release is a bounce and is dropped;
// another key may follow at once. A second finger that comes down within 60 ms of the first is a palm, and nothing
// counts until all are lifted; later than that it is a fast hand rolling over, and the first key acts at once.

const BOUNCE = 80;
const PALM = 60;

export function pad(act) {
  const down = new Map(); // pointer -> { key, name, when, used }
  let palm = false;
  let last = { name: "", when: -1000 };

  function press(held, when) {
    held.used = true;
    held.key.classList.remove("down");
    last = { name: held.name, when };
    act(held.name, held.key);
  }

  // A finger is already down: a palm, or a fast hand rolling over?
  function meet(held, when) {
    if (when - held.when < PALM) palm = true;
    if (palm) held.key.classList.remove("down");
    else if (!held.used) press(held, when);
  }

  document.addEventListener("pointerdown", (event) => {
    const key = event.target.closest("[data-key]");
    if (!key || event.button > 0) return;
    event.preventDefault(); // focus stays where it is: the next gauge burst must not press this key
    if (key.hasPointerCapture?.(event.pointerId)) key.releasePointerCapture(event.pointerId);
    const when = performance.now();
    const name = key.dataset.key;
    const bounce = name === last.name && when - last.when < BOUNCE;
    for (const held of down.values()) meet(held, when);
    down.set(event.pointerId, { key, name, when, used: bounce });
    if (!palm && !bounce) key.classList.add("down");
  });
  document.addEventListener("pointerup", (event) => {
    const held = down.get(event.pointerId);
    if (!held) return;
    // By name and not by element: the fields may have been drawn anew under the finger.
    const under = document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-key]")?.dataset.key;
    if (!palm && !held.used && under === held.name) press(held, performance.now());
    lift(event);
  });
  document.addEventListener("pointercancel", lift);

  function lift(event) {
    down.get(event.pointerId)?.key.classList.remove("down");
    down.delete(event.pointerId);
    if (!down.size) palm = false;
  }

  // Focus stays in the entry line when a key is pressed by mouse.
  document.addEventListener("mousedown", (event) => {
    if (event.target.closest("[data-key]")) event.preventDefault();
  });
  // From a keyboard or a reader of the page a key comes as a click without a pointer.
  document.addEventListener("click", (event) => {
    const key = event.target.closest("[data-key]");
    if (key && event.detail === 0) act(key.dataset.key, key);
  });
}
