// What is heard of a line, where this device asks for it: one short tick for kept, two for asked; place and value spoken.

const root = document.documentElement;
const TICK = 0.045; // seconds
const PITCH = { kept: 1250, asked: 880 }; // hertz
const ASKED = ["which", "unread", "refused", "asked"];
let sound = null;

function tick(at, pitch) {
  const source = sound.createOscillator();
  const level = sound.createGain();
  source.frequency.value = pitch;
  level.gain.setValueAtTime(0.25, at);
  level.gain.exponentialRampToValueAtTime(0.001, at + TICK);
  source.connect(level).connect(sound.destination);
  source.start(at);
  source.stop(at + TICK);
}

// A browser lets a page sound only after the hand has touched it; the line that is answered was such a touch.
async function ticks(count, pitch) {
  sound = sound || new AudioContext();
  if (sound.state === "suspended") await sound.resume();
  for (let n = 0; n < count; n += 1) tick(sound.currentTime + n * 3 * TICK, pitch);
}

function speak(words) {
  speechSynthesis.cancel(); // the hand is faster than the voice: only the last is worth hearing
  const said = new SpeechSynthesisUtterance(words);
  said.lang = "en";
  speechSynthesis.speak(said);
}

const KINDS = { Inl: "inlet", Exh: "exhaust" };
const ENDS = { F: "front", R: "rear", M: "middle" };

// "Inl 3F" as one says it; a place of another form is read as it stands.
export function spoken(place) {
  return place.replace(/\b(Inl|Exh) (\d+)([FRM]?)/g,
    (_, kind, cylinder, end) => [KINDS[kind], cylinder, ENDS[end]].filter(Boolean).join(" "));
}

document.addEventListener("line:answered", (event) => {
  const told = event.detail;
  const kept = told.status === "kept";
  const asked = ASKED.includes(told.status);
  if (root.dataset.sound === "on" && (kept || asked) && "AudioContext" in window) {
    ticks(asked ? 2 : 1, PITCH[asked ? "asked" : "kept"]);
  }
  if (root.dataset.spoken !== "on" || !("speechSynthesis" in window)) return;
  const [place = "", station = ""] = told.item?.where || [];
  if (kept) speak(`${spoken(place)} ${station}, ${told.line.trim()}, kept`);
  else if (asked) speak(told.detail || told.question?.text || "look at the line");
});
