// Letters and hand as this device remembers them, also on a page that was held from earlier: one shown again by the way
// back, or one that the worker gives while the store is away.

import { recall } from "./remember.js";

const root = document.documentElement;
const SET = { letters: ["larger"], hand: ["left"], sound: ["on"], spoken: ["on"], light: ["day", "night"] };

function apply() {
  for (const [name, values] of Object.entries(SET)) {
    const value = recall(name);
    if (values.includes(value)) root.dataset[name] = value;
    else delete root.dataset[name];
  }
}

addEventListener("pageshow", apply);
