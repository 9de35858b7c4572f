"""How sheets put places and counts into words: `Inl 4F and 4R`, `one with leaf 0.25`, `3 readings`."""

from collections.abc import Iterable, Sequence

from witnessmark.engine import place as places

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def count_word(number: int) -> str:
    """`two` up to ten, digits beyond: small numbers read faster as words inside a sentence."""
    return NUMBERS[number] if 0 <= number < len(NUMBERS) else str(number)


def plural(number: int, thing: str, things: str = "") -> str:
    """`1 question`, `3 questions`."""
    return f"{number} {thing if number == 1 else things or thing + 's'}"


def listed(words: Sequence[str], last: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


OVER_ALL = {"all": "over all places", "inl": "over all inlets", "exh": "over all exhausts"}
"""Where a spread over places stands: it has no place of its own."""


def shown(place: str) -> str:
    """A place as people see it; what is no place of ours, such as one of an older record, is shown as it came."""
    try:
        return OVER_ALL.get(place) or places.shown(place)
    except places.PlaceError:
        return place


def location(place: str) -> str:
    """The place without its station; what is no place of ours stays whole."""
    try:
        return places.location(place)
    except places.PlaceError:
        return place


def together(ids: Iterable[str], most: int = 4) -> str:
    """Locations of several places in one breath: `Inl 4F and 4R`; over `most` of them, `16 places`."""
    found = list(dict.fromkeys(shown(location(name)) for name in ids))
    if len(found) > most:
        return f"{len(found)} places"
    return listed([_short(name, before) for before, name in zip(["", *found], found, strict=False)])


def _short(name: str, before: str) -> str:
    """Leave out the first word where the place before said it already."""
    head, _, tail = name.partition(" ")
    return tail if tail and before.startswith(f"{head} ") else name
