"""How a demo job is written: readings as lines of a job file, with times; drawn figures from a fixed seed.

The figures are invented. What matters in each demo is set by hand in its own file, the rest is drawn round it.
"""

import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field


@dataclass
class Bench:
    """One job on the bench: `lines` are the insides of its readings, in the order in which they were taken."""

    seed: int
    day: str  # 2026-11-24
    hour: int
    people: tuple[str, ...]
    lines: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.chance = random.Random(self.seed)

    def draw(self, middle: float, spread: float) -> float:
        """One draw, kept within two and a half spreads."""
        return middle + max(-2.5, min(2.5, self.chance.gauss(0, 1))) * spread

    def number(self, middle: float, spread: float, step: float) -> str:
        """A draw as a gauge of this step shows it."""
        digits = max(0, len(f"{step:.6f}".rstrip("0").partition(".")[2]))
        return f"{round(self.draw(middle, spread) / step) * step:.{digits}f}"

    def read(self, characteristic: str, place: str, gauge: str, raw: str, more: str = "") -> None:
        """One reading by a gauge."""
        self.lines.append(entry(characteristic, place, gauge, raw, more))

    def each(self, characteristic: str, places: Iterable[str], gauge: str, usual: tuple[float, float, float],
             own: Mapping[str, str] = {}, more: str = "") -> None:
        """A reading at each place: its own where one is set, else drawn; `usual` is middle, spread, step."""
        for place in places:
            self.read(characteristic, place, gauge, own.get(place) or self.number(*usual), more)

    def gaps(self, characteristic: str, places: Iterable[str], gauge: str, usual: str, own: Mapping[str, str] = {}) -> None:
        """Leaves at each place: the one that enters and the next."""
        for place in places:
            self.read(characteristic, place, gauge, own.get(place) or usual)

    def look(self, characteristic: str, places: Iterable[str], says: str, method: str, own: Mapping[str, str] = {}) -> None:
        """What was said at each place, one answer for all but those that have an answer of their own."""
        for place in places:
            told = own.get(place) or f"says: {says}, method: {method}"
            self.lines.append(f"characteristic: {characteristic}, place: {place}, {told}")

    def clocked(self) -> str:
        """The readings with their times, some eight seconds apart, and who took them."""
        second, found = 0, []
        for n, line in enumerate(self.lines):
            second += self.chance.choice((6, 7, 8, 9, 12))
            hour, rest = divmod(second, 3600)
            at = f"{self.day}T{self.hour + hour:02d}:{rest // 60:02d}:{rest % 60:02d}Z"
            person = self.people[min(n * len(self.people) // max(1, len(self.lines)), len(self.people) - 1)]
            found.append(f'  - {{{line}, at: {at}, by: "{person}"}}\n')
        return "".join(found)


def entry(characteristic: str, place: str, gauge: str, raw: str, more: str = "") -> str:
    """The inside of one reading."""
    quoted = f'"{raw}"' if " " in raw or raw[0] in "+-" else raw
    extra = f", {more}" if more else ""
    return f"characteristic: {characteristic}, place: {place}, gauge: {gauge}, raw: {quoted}{extra}"


def stations(places: Iterable[str], words: Iterable[str]) -> list[str]:
    """Every station of every place."""
    words = tuple(words)
    return [f"{place}/{word}" for place in places for word in words]


ROUND = ("front/along", "front/across", "rear/along", "rear/across")
FACE = ("inlet-edge", "exhaust-edge", "front-end", "rear-end", "diagonal-1", "diagonal-2")
