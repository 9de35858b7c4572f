// The stations ahead as the page was told them, so that the hand walks on while the store is away.

const same = (stop, here) => stop.characteristic === here.characteristic && stop.place === here.place;

// The station after this one; null where the page was not told.
export function after(here) {
  const list = document.getElementById("ahead");
  const stops = [...list.children].map((one) => one.dataset);
  const at = stops.findIndex((stop) => same(stop, here));
  if (at < 0 && !same(list.dataset, here)) return null;
  const next = stops[at + 1];
  return next ? { ...next, n: Number(next.n), of: Number(next.of) } : null;
}

export const isReading = (typed) => /\d/.test(typed) && !/^\s*\*/.test(typed);

// Lines after which the hand goes on: readings, the leaf that stays out, and what leaves a place.
export const walksOn = (typed) => isReading(typed) || /^\s*(-|\*[458])\s*$/.test(typed);
