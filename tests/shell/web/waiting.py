"""A bench page with lines that may wait on the device: opened, typed into, and what it holds and the store has."""

import time

from shell.web.shop import JOB

HERE = f"/jobs/{JOB}/bench?characteristic=stem_diameter&place=inl-3f/middle/across"
WIDE = {"width": 1280, "height": 800}


def opened(context, address, here=HERE):
    page = context.new_page()
    page.set_default_timeout(6000)
    page.goto(address + here)
    until(page, "document.getElementById('line') !== null")
    return page


def until(page, script, *more, seconds=6.0):
    end = time.monotonic() + seconds
    while not page.evaluate(script, *more):
        assert time.monotonic() < end, f"{script} never held; the page says {page.inner_text('#act')!r}"
        time.sleep(0.03)


def type_(page, *values):
    for value in values:
        page.keyboard.type(value)
        page.keyboard.press("Enter")


def echo(page, words, seconds=6.0):
    until(page, "(w) => document.getElementById('echo').textContent.includes(w)", words, seconds=seconds)


def typed(store):
    """What pages typed, in the order of the store."""
    return [r for r in store.job(JOB).readings if r.device != "d-setup"]


def stored(store, count, seconds=15.0):
    end = time.monotonic() + seconds
    while len(typed(store)) < count:
        assert time.monotonic() < end, f"{len(typed(store))} of {count} are stored"
        time.sleep(0.05)
    return typed(store)


def station(page):
    return page.inner_text("#station b"), page.inner_text("#station span")


BOX = """() => new Promise((resolve, reject) => {
  const asked = indexedDB.open("witnessmark");
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const base = asked.result;
    const act = base.transaction(["waiting", "aside"]);
    const reads = ["waiting", "aside"].map((name) => act.objectStore(name).getAll());
    act.oncomplete = () => { base.close(); resolve(reads.map((read) => read.result)); };
  };
})"""

# Asked of all boxes at once: to open one by its name would make anew what was let go meanwhile.
HELD = f"""async () => {{
  const held = await caches.match("/jobs/{JOB}/bench");
  return Boolean(held) && (await held.text()).includes(document.getElementById("ahead").dataset.place);
}}"""
