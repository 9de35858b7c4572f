// What waits on this device: lines on their way to the store, and lines that it did not take. One box for all tabs.
//
// Every change is one transaction that is on the disk when it is answered (durability "strict"). `work` is given
// { seq, waiting, aside }, changes it at once (items are replaced, never written into), and its result is handed on.

const NAME = "witnessmark";
const STORES = ["waiting", "aside", "count"];

function opened() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("waiting", { keyPath: "n" });
      asked.result.createObjectStore("aside", { keyPath: "n" });
      asked.result.createObjectStore("count", { keyPath: "name" });
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

// The difference between what a store held and what it is to hold.
function write(store, before, after) {
  const held = new Map(before.map((item) => [item.n, item]));
  for (const item of after) {
    if (held.get(item.n) !== item) store.put(item);
    held.delete(item.n);
  }
  for (const n of held.keys()) store.delete(n);
}

function apply(act, [waiting, aside, counts], work) {
  const seq = counts[0]?.value || 0;
  const state = { seq, waiting: [...waiting], aside: [...aside] };
  const result = work(state);
  write(act.objectStore("waiting"), waiting, state.waiting);
  write(act.objectStore("aside"), aside, state.aside);
  if (state.seq !== seq) act.objectStore("count").put({ name: "seq", value: state.seq });
  return result;
}

function change(base, mode, work) {
  return new Promise((resolve, reject) => {
    const act = base.transaction(STORES, mode, { durability: "strict" });
    const reads = STORES.map((name) => act.objectStore(name).getAll());
    let left = reads.length;
    let result;
    for (const read of reads) {
      read.onsuccess = () => {
        left -= 1;
        if (!left) result = apply(act, reads.map((one) => one.result), work);
      };
    }
    act.oncomplete = () => resolve(result);
    act.onabort = () => reject(act.error || new Error("the change was broken off"));
  });
}

function lasting(first) {
  let base = first;
  const watch = (one) => {
    one.onversionchange = () => {
      one.close();
      base = null;
    };
    one.onclose = () => (base = null); // the browser shut it: it is opened again when it is next wanted
  };
  watch(base);
  async function ready() {
    if (!base) {
      base = await opened();
      watch(base);
    }
    return base;
  }
  return {
    lasts: true,
    // Without a pause where the base is open: lines must be kept in the order they were typed in.
    change: (work) => (base ? change(base, "readwrite", work) : ready().then((again) => change(again, "readwrite", work))),
    read: async () => change(await ready(), "readonly", (state) => state),
  };
}

// Where the browser gives no room of its own, as in some private windows: kept while the page is open, and said so.
function fleeting() {
  const state = { seq: Math.floor(Date.now() / 1000), waiting: [], aside: [] };
  return {
    lasts: false,
    change: async (work) => work(state),
    read: async () => ({ ...state, waiting: [...state.waiting], aside: [...state.aside] }),
  };
}

export async function open() {
  try {
    return lasting(await opened());
  } catch {
    return fleeting(); // said on the page by whoever opened it
  }
}
