"""Look-and-say: what eye, lamp or hand found, said by the number of an answer and, where it helps, how much.

    2          the second answer            2 12       the second answer, 12 of the usual unit
    2 1/2 in   with a unit                  crack 12   the same in words

Units   as `quantity.read` reads them. Errors  an outcome `unread`, with what to do.
"""

from collections.abc import Sequence
from typing import Any

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.reading import Read
from witnessmark.engine.place import shown
from witnessmark.explain.words import unit_of
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.outcome import Asked
from witnessmark.quantity.read import read as read_number
from witnessmark.record.job import Job
from witnessmark.record.meant import MEASURE_AGAIN, exact, take

NOTHING = "none"
INCH = ("in", "thou", "tenths")


def dialect(job: Job) -> str:
    """`in` where most gauges of the register read inches, else `mm`: the units of an amount said without one."""
    units = [str(revisions[-1].fields.get("unit") or "mm") for revisions in job.gauges.values()]
    inch = sum(unit in INCH for unit in units)
    return "in" if 2 * inch > len(units) else "mm"


def read_look(entry: Characteristic, text: str, place: str, display: str = "mm") -> Read:
    """What a line says of something that is looked at. `display` is the unit of lengths where none is written."""
    answers = tuple(entry.says)
    chosen, rest = _chosen(answers, text.strip())
    if chosen is None:
        listed = ", ".join(f"{n} {word}" for n, word in enumerate(answers, 1))
        return _unread(text, place, f"write the number of what you found: {listed}")
    if not rest:
        return Read("kept", _meaning(chosen, None), None, (), "")
    if entry.quantity == NOTHING:
        return _unread(text, place, f"'{rest[:40]}' is more than this can take; the answer alone is kept")
    found = read_number(rest, unit_of(entry, display), dimension=entry.quantity)
    if isinstance(found, Amount):
        return Read("kept", _meaning(chosen, found), None, (found.assumed,) if found.assumed else (), "")
    if isinstance(found, Asked):
        ways = [take(answer.label, _meaning(chosen, answer.amount)) for answer in found.answers]
        came = f"{shown(place)} came as {text.strip()[:40]}: {found.question}"
        question = {"kind": "meaning", "text": came, "answers": [*ways, MEASURE_AGAIN]}
        return Read("which", None, question, (), found.question)
    return _unread(text, place, found.message)


def _chosen(answers: Sequence[str], text: str) -> tuple[str | None, str]:
    """The answer that a text begins with, and what stands after it."""
    word, _, rest = text.partition(" ")
    if word.isdecimal() and word.isascii():
        number = int(word[:4])
        return (answers[number - 1], rest.strip()) if 1 <= number <= len(answers) else (None, text)
    said = text.casefold()
    for answer in sorted(answers, key=len, reverse=True):
        if said == answer.casefold() or said.startswith(f"{answer.casefold()} "):
            return answer, text[len(answer) :].strip()
    return None, text


def _meaning(says: str, amount: Amount | None) -> dict[str, Any]:
    value = exact(amount.value) if amount else None
    return {"kind": "look", "says": says, "value": value, "unit": amount.unit if amount else None}


def _unread(text: str, place: str, why: str) -> Read:
    question = {"kind": "unread", "text": f"{shown(place)} came as {text.strip()[:40]}: {why}",
                "answers": [MEASURE_AGAIN]}  # fmt: skip
    return Read("unread", None, question, (), why, (0, len(text)) if text else None)
