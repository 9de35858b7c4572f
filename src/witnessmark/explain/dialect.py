"""Words of the trade on either side of the Atlantic: one table, whole words, the case kept.

Written   What ships is written in the words that both sides read; where they part it takes one, and this table gives
          the other. `british` and `american` put every word of the other side into their own; "" leaves all as written.
Kept      Numbers, units, ids (words with _), places (Inl, Exh) and whatever a person typed are never touched.
Source    Common practice, no source.
"""

import re
from collections.abc import Mapping
from dataclasses import fields, replace
from functools import lru_cache
from typing import Any, TypeVar

from witnessmark.catalogue.entry import Catalogue

DIALECTS = ("british", "american")

PAIRS: tuple[tuple[str, str], ...] = (
    ("gasket face flatness", "gasket face warpage"),
    ("manifold face flatness", "manifold face warpage"),
    ("upper face flatness", "upper face warpage"),
    ("inlet", "intake"),
    ("inlets", "intakes"),
    ("tappet", "lifter"),
    ("tappets", "lifters"),
    ("collet", "keeper"),
    ("collets", "keepers"),
    ("gudgeon pin", "wrist pin"),
    ("gudgeon pins", "wrist pins"),
    ("feeler leaves", "feeler gauges"),
    ("end float", "end play"),
    ("valve stem oil seal", "valve seal"),
    ("engineer's blue", "Prussian blue"),
    ("paraffin", "kerosene"),
    ("petrol", "gasoline"),
    ("grey", "gray"),
    ("centre", "center"),
    ("centres", "centers"),
    ("centred", "centered"),
    ("centreline", "centerline"),
    ("aluminium", "aluminum"),
    ("colour", "color"),
    ("colours", "colors"),
    ("mould", "mold"),
    ("tyre", "tire"),
)
"""British word, American word. No word stands on both sides, so going there and back gives the same words."""

ONE_WAY: tuple[tuple[str, str], ...] = (
    ("a skim", "a resurfacing"),
    ("the skim", "the resurfacing"),
    ("every skim", "every resurfacing"),
    ("total skim", "total resurfacing"),
    ("skim", "resurface"),
    ("skims", "resurfacings"),
    ("skimmed", "resurfaced"),
    ("skimming", "resurfacing"),
    ("demagnetised", "demagnetized"),
)
"""British word, American word; back again it would be wrong, since a rocker pad is resurfaced and never skimmed."""

_TABLES: Mapping[str, Mapping[str, str]] = {
    "american": {british.casefold(): american for british, american in (*ONE_WAY, *PAIRS)},
    "british": {american.casefold(): british for british, american in PAIRS},
}
_JOINED = r"\w"  # a letter, a digit or _ beside a word makes it part of another one, or of an id
Entry = TypeVar("Entry")


def said(text: str, dialect: str) -> str:
    """The text in the words of `dialect`; as it is for one that is not known."""
    table = _TABLES.get(dialect)
    if not table or not text:
        return text
    return _pattern(dialect).sub(lambda found: _cased(found[0], table[" ".join(found[0].casefold().split())]), text)


def catalogue_said(catalogue: Catalogue, dialect: str) -> Catalogue:
    """The catalogue in the words of `dialect`: ids, answers, numbers, sources and other names stay as they are."""
    if dialect not in _TABLES:
        return catalogue
    parts = ("characteristics", "gauge_kinds", "operations", "hazards", "methods")
    return replace(catalogue, **{part: _part_said(getattr(catalogue, part), dialect) for part in parts})


_SAID = ("term", "state", "measure", "out", "wears", "teach", "finds", "misses", "direction", "text")


def _part_said(part: Mapping[str, Any], dialect: str) -> Mapping[str, Any]:
    return {name: _each_said(one, dialect) for name, one in part.items()}


def _each_said(one: Entry, dialect: str) -> Entry:
    has: Any = one
    texts = {each.name: said(getattr(one, each.name), dialect) for each in fields(has) if each.name in _SAID}
    return replace(has, **texts)  # type: ignore[no-any-return]


@lru_cache(maxsize=len(DIALECTS))
def _pattern(dialect: str) -> re.Pattern[str]:
    words = sorted(_TABLES[dialect], key=len, reverse=True)
    inside = "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in words)
    return re.compile(rf"(?<!{_JOINED})(?:{inside})(?!{_JOINED})", re.IGNORECASE)


def _cased(was: str, now: str) -> str:
    if was.isupper():
        return now.upper()
    return now[:1].upper() + now[1:] if was[:1].isupper() else now
