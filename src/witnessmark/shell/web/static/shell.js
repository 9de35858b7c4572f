// Has this page held on the device, so that it can be loaded again while the store is away. Where the browser has no
// worker (another machine over plain http, some private windows) the bench works as well, but must not be left.

const QUIET = 3000; // milliseconds without a change before the page is held as it then stands
let due = 0;

function files() {
  return performance.getEntriesByType("resource").map((one) => one.name).filter((name) => name.includes("/static/"));
}

function hold(registered) {
  registered.active?.postMessage({ address: location.href, files: files() });
}

async function begin() {
  try {
    await navigator.serviceWorker.register(new URL("worker.js", import.meta.url), { scope: "/" });
  } catch {
    return; // refused by the browser's own settings
  }
  const registered = await navigator.serviceWorker.ready;
  hold(registered);
  document.addEventListener("sheet:swapped", () => {
    clearTimeout(due);
    due = setTimeout(hold, QUIET, registered);
  });
}

if ("serviceWorker" in navigator) begin();
