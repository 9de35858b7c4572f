"""Limits of the sheet where nothing has been judged yet: their words and their walls."""

from collections.abc import Iterable
from fractions import Fraction

from witnessmark.catalogue.entry import Catalogue
from witnessmark.draw.scale import Wall
from witnessmark.explain.words import unit_of
from witnessmark.limits.sheet import Limit, Sheet, limit_for
from witnessmark.quantity.show import show

SERVICE, NEW = "service", "new"


def entered_at(sheet: Sheet | None, characteristic: str, place: str) -> tuple[Limit | None, Limit | None]:
    """The service limit and the new limit that hold for a place, None where there is none."""
    if sheet is None:
        return None, None
    return limit_for(sheet, characteristic, place, SERVICE), limit_for(sheet, characteristic, place, NEW)


def entered_wall(sheet: Sheet | None, characteristic: str, place: str) -> Wall:
    """The walls of a place at which nothing was read."""
    service, new = entered_at(sheet, characteristic, place)
    held = service or new
    target = new if service else None
    return Wall(
        held.low if held else None,
        held.high if held else None,
        target.low if target else None,
        target.high if target else None,
    )


def entered_words(
    sheet: Sheet | None, characteristic: str, where: Iterable[str], catalogue: Catalogue, unit: str
) -> str:
    """The limits of several places in a row, the inlet's first: `least 5.940 · 5.925`; `no limit yet`."""
    entry = catalogue.characteristics[characteristic]
    held = [service or new for service, new in (entered_at(sheet, characteristic, place) for place in where)]
    display = unit_of(entry, unit)
    return joined(limit_text(limit, display, entry.quantity) for limit in held if limit)


def joined(words: Iterable[str]) -> str:
    """Limits side by side; the word that both begin with is said once."""
    found = list(dict.fromkeys(words))
    if not found:
        return "no limit yet"
    head = found[0].partition(" ")[0]
    return " · ".join([found[0], *(word.removeprefix(f"{head} ") for word in found[1:])])


def limit_text(limit: Limit, display: str, quantity: str) -> str:
    """`least 5.940`, `37.8 to 38.3`: as it was entered, converted where another unit is shown."""
    low = _end(limit.low, limit.low_text, limit.unit, display, quantity)
    high = _end(limit.high, limit.high_text, limit.unit, display, quantity)
    if low and high:
        return f"{low} to {high}"
    return f"least {low}" if low else f"most {high}"


def _end(value: float | None, text: str, own: str, display: str, quantity: str) -> str:
    if value is None:
        return ""
    if own == display and text:
        return text
    whole, _, decimals = text.partition(".")
    step = (
        Fraction(1, 10 ** len(decimals)) if whole.lstrip("+-").isdigit() and decimals.isdigit() else Fraction(1, 1000)
    )
    return show(value, display, step, own, dimension=quantity)
