// The stream of what was stored on a job, taken up again where it broke off. A page that nobody sees lets go of it: a
// browser has six connections to one store, and each open sheet would hold one for good.

const SILENT = 8000; // milliseconds; the store beats once a second, so a stream this quiet is cut somewhere
const AGAIN = 2000;
const AWAY = 3000; // a break shorter than this is not worth a word

const nothing = () => undefined;

// `came` is given each event's data, `again` asks for the whole sheet, `opened` and `away` tell how the store is.
export function follow(job, from, { came, again, opened = nothing, away = nothing }) {
  let stream = null;
  let last = from;
  let heard = 0;
  let timer = 0;
  let broken = 0;

  function fresh(event) {
    heard = performance.now();
    clearTimeout(broken);
    broken = 0;
    last = Math.max(last, Number(event?.lastEventId) || 0);
  }

  function close() {
    clearTimeout(timer);
    stream?.close();
    stream = null;
  }

  function listen() {
    close();
    if (document.hidden) return;
    heard = performance.now();
    stream = new EventSource(`/api/jobs/${encodeURIComponent(job)}/stream?after=${last}`);
    stream.onopen = () => {
      fresh();
      opened();
    };
    stream.onmessage = (event) => {
      fresh(event);
      came(JSON.parse(event.data));
    };
    stream.addEventListener("again", (event) => {
      fresh(event);
      again();
    });
    stream.addEventListener("beat", fresh);
    stream.onerror = () => {
      broken = broken || setTimeout(away, AWAY);
      // The browser takes a broken stream up again by itself; one that was refused it does not.
      if (stream?.readyState === EventSource.CLOSED) timer = setTimeout(listen, AGAIN);
    };
  }

  setInterval(() => {
    if (stream?.readyState === EventSource.OPEN && performance.now() - heard > SILENT) listen();
  }, AGAIN);
  document.addEventListener("visibilitychange", listen);
  addEventListener("pagehide", close);
  addEventListener("pageshow", (event) => event.persisted && listen());
  listen();
}
