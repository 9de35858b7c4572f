"""The two rates of the slip guard: honest readings asked back, and slips found, on whole heads walked through the desk.

At every station the honest reading is entered and kept; at some, the same reading is also entered with each slip, and
not kept. A slip is found when the line is asked back or cannot be read. Every reading counts once, so a characteristic
weighs as often as it is read on a full head.
"""

import os
from collections import Counter
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor

import numpy as np

from benchmarks import heads
from benchmarks.claim import clustered
from benchmarks.table import Paper, percent
from benchmarks.walks import HARBOUR_LANE, INCH_SHOP, Shop, Walk

SHOPS = (HARBOUR_LANE, INCH_SHOP)
ASKED = ("asked", "which", "unread")
HONEST_MOST, FOUND_LEAST = 1 / 500, 0.99
TRIED = 0.25  # share of stations at which slips are tried
SEED = 20261128  # not a seed that the weights of the guard were chosen with

Tally = dict[tuple[str, str], Counter[str]]  # characteristic, what -> n, asked; and the examples missed


def slipped(walk: Walk, characteristic: str, text: str) -> Iterable[tuple[str, str]]:
    """Every slip of a typed reading: its name and what would be typed instead. Nought cannot slip."""
    gauge = walk.shop.parts[characteristic].gauge
    fields = walk.shop.gauges[gauge]
    numbers = text.replace("*", " ").split()
    if not any(float(number) for number in numbers):
        return
    if fields["unit"] in ("mm", "in"):
        yield "other unit", " ".join(_other_unit(number, str(fields["unit"]), fields) for number in numbers)
    yield "point right", " ".join(moved(number, 1) for number in numbers)
    yield "point left", " ".join(moved(number, -1) for number in numbers)
    if "." in text:
        yield "point lost", text.replace(".", "")


def _other_unit(number: str, unit: str, fields: object) -> str:
    """The same size as a gauge of the other unit shows it."""
    value = float(number) / heads.INCH if unit == "mm" else float(number) * heads.INCH
    step = float(str(fields.get("resolution") or "0.01")) if isinstance(fields, dict) else 0.01
    if unit == "mm":
        other = 0.0001 if step <= 0.002 else 0.0005 if step <= 0.02 else 0.01
    else:
        other = 0.001 if step <= 0.0001 else 0.01 if step <= 0.001 else 0.1
    if isinstance(fields, dict) and fields["kind"] == "leaves":
        other = 0.0005 if unit == "mm" else 0.01
    sign = "+" if number.startswith(("+", "-")) else ""
    return f"{float(heads.rounded(np.array(value), other)):{sign}.{heads.decimals(other)}f}"


def moved(number: str, places: int) -> str:
    """The same digits with the point moved."""
    sign = number[0] if number[0] in "+-" else ""
    whole, _, part = number.lstrip("+-").partition(".")
    digits = whole + part
    at = len(whole) + places
    digits, at = (("0" * (1 - at) + digits), 1) if at < 1 else (digits.ljust(at, "0"), at)
    whole, part = digits[:at].lstrip("0") or "0", digits[at:]
    return f"{sign}{whole}.{part}" if part else f"{sign}{whole}"


def one_head(order: tuple[int, int]) -> tuple[Tally, list[str]]:
    """Walk one head: what was asked back, by characteristic and kind, and some examples of each kind of miss."""
    shop_number, number = order
    shop: Shop = SHOPS[shop_number]
    rng = np.random.default_rng((SEED, shop_number, number))
    walk = Walk(shop, rng)
    tally: Tally = {}
    examples: list[str] = []
    for stop in walk.now.route:
        if stop.characteristic not in shop.parts:
            continue  # the sheet limits more than this shop reads
        text = walk.typed(stop.characteristic, stop.place)
        honest = walk.enter(stop.characteristic, stop.place, text)
        _count(tally, stop.characteristic, "honest", honest.status)
        if honest.status in ASKED:
            examples.append(f"honest, asked back: {stop.characteristic} {stop.place} {text}: {honest.detail}")
        if rng.uniform() < TRIED:
            for what, line in slipped(walk, stop.characteristic, text):
                if line == text or not any(float(part) for part in line.split()):
                    continue  # rounded to the same or to nothing: nobody could tell, and nothing was mistyped
                found = walk.enter(stop.characteristic, stop.place, line)
                _count(tally, stop.characteristic, what, found.status)
                if found.status not in ASKED:
                    examples.append(f"{what}, not found: {stop.characteristic} {stop.place} {text} typed {line}")
        walk.keep(honest)
    return tally, examples


def _count(tally: Tally, characteristic: str, what: str, status: str) -> None:
    if status == "refused":
        raise AssertionError(f"the desk refuses {characteristic}: the walk does not fit the catalogue any more")
    counter = tally.setdefault((characteristic, what), Counter())
    counter["n"] += 1
    counter["asked"] += status in ASKED


def walked(number: int, workers: int | None = None) -> list[tuple[list[Tally], list[str]]]:
    """Every shop's heads."""
    orders = [(shop, n) for shop in range(len(SHOPS)) for n in range(number)]
    workers = workers or os.cpu_count() or 1
    if workers == 1:
        answers = [one_head(order) for order in orders]
    else:
        with ProcessPoolExecutor(workers) as pool:
            answers = list(pool.map(one_head, orders, chunksize=2))
    return [
        ([tally for tally, _ in part], [line for _, lines in part for line in lines])
        for part in (answers[shop * number : (shop + 1) * number] for shop in range(len(SHOPS)))
    ]


def rate(tallies: list[Tally], honest: bool) -> tuple[float, float, int, int]:
    """Share asked back over all readings with its error clustered by head, and the counts."""
    hits, of = [], []
    for tally in tallies:
        counters = [counter for (_, what), counter in tally.items() if (what == "honest") == honest]
        hits.append(sum(counter["asked"] for counter in counters))
        of.append(sum(counter["n"] for counter in counters))
    return (*clustered(hits, of), sum(hits), sum(of))


def run(paper: Paper, quick: bool) -> None:
    """Both rates, in all and by characteristic, for both shops."""
    number = 4 if quick else 40
    for shop, (tallies, examples) in zip(SHOPS, walked(number), strict=True):
        paper.heading(f"Slip guard, {shop.name}: {number} whole heads walked in order")
        _by_characteristic(paper, tallies)
        share, error, asked, n = rate(tallies, honest=True)
        often = f"1 in {1 / share:.0f}" if share else "none"
        paper.goal(f"honest readings asked back, {shop.name}", f"{often} ({asked} of {n}, ± {percent(error)})",
                   "at most 1 in 500", share <= HONEST_MOST)  # fmt: skip
        share, error, asked, n = rate(tallies, honest=False)
        paper.goal(f"slips found, {shop.name}", f"{percent(share)} ({n - asked} of {n} missed, ± {percent(error)})",
                   "at least 99 %", share >= FOUND_LEAST)  # fmt: skip
        for kind in ("honest", "other unit", "point"):
            for line in [line for line in examples if line.startswith(kind)][:4]:
                paper.say(f"  {line}")


def _by_characteristic(paper: Paper, tallies: list[Tally]) -> None:
    kinds = ("other unit", "point right", "point left", "point lost")
    total: Tally = {}
    for tally in tallies:
        for key, counter in tally.items():
            total.setdefault(key, Counter()).update(counter)
    rows = []
    for name in dict.fromkeys(name for name, _ in total):
        honest = total[name, "honest"]
        found = [total.get((name, kind), Counter()) for kind in kinds]
        shown = [percent(c["asked"] / c["n"], 1) if c["n"] else "-" for c in found]
        rows.append((name, honest["n"] // len(tallies), honest["asked"], *shown))
    paper.table(("characteristic", "per head", "honest asked back", *kinds), rows)
