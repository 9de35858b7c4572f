// Holds the bench pages that were last looked at, with all they need, so that one can be loaded again while the store is
// away. Whatever is asked of the store itself passes by untouched. One worker and one box for each state of the files:
// their digest stands in the address of this script.

const FILES = self.location.pathname.replace(/[^/]*$/, "");
const BOX = `bench-${FILES.split("/")[2]}`;
const MOST = 8; // pages, one for each job
const PATIENCE = 5000; // milliseconds until a page that is held is shown instead of one that does not come

const isBench = (path) => /^\/jobs\/[^/]+\/bench$/.test(path);

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(begin()));
self.addEventListener("message", (event) => event.waitUntil(hold(event.data)));
self.addEventListener("fetch", (event) => {
  const { method, mode, url } = event.request;
  const { pathname, origin } = new URL(url);
  if (method !== "GET" || origin !== self.location.origin) return;
  if (pathname.startsWith(FILES)) event.respondWith(file(event.request));
  else if (mode === "navigate" && isBench(pathname)) event.respondWith(page(event.request, pathname));
});

async function begin() {
  for (const name of await caches.keys()) {
    if (name.startsWith("bench-") && name !== BOX) await caches.delete(name);
  }
  await self.clients.claim();
}

async function file(request) {
  const box = await caches.open(BOX);
  const held = await box.match(request.url);
  if (held) return held;
  const answer = await fetch(request);
  if (answer.ok) await box.put(request.url, answer.clone());
  return answer;
}

// From the store where it answers; else as it was held. A page is held under its path: the station stands in the page.
async function page(request, path) {
  try {
    return await fetch(request, { signal: AbortSignal.timeout(PATIENCE) });
  } catch (reason) {
    const held = await (await caches.open(BOX)).match(path);
    if (held) return held;
    throw reason; // the browser says itself that nobody answers
  }
}

// A page tells where it stands and which files it loaded.
async function hold({ address, files }) {
  const box = await caches.open(BOX);
  for (const one of files) {
    const { pathname, href } = new URL(one);
    if (pathname.startsWith(FILES) && !(await box.match(href))) await box.add(href);
  }
  const answer = await fetch(address, { headers: { Accept: "text/html" } });
  const { pathname } = new URL(address);
  if (!answer.ok || !isBench(pathname)) return;
  await box.delete(pathname); // so that the last one looked at stands last
  await box.put(pathname, answer);
  const pages = (await box.keys()).filter((one) => isBench(new URL(one.url).pathname));
  for (const old of pages.slice(0, -MOST)) await box.delete(old);
}
