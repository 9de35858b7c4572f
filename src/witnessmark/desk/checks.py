"""Trust in gauges: zero checks before and after a series, and two gauges held against each other on one part.

Errors  Refused, for a gauge that the register does not have and for what cannot be read in its unit.
"""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.desk.commands import Stamp
from witnessmark.desk.state import State
from witnessmark.judge.zero import allowed_zero
from witnessmark.quantity.amount import Amount
from witnessmark.quantity.read import read
from witnessmark.quantity.unit import unit as known
from witnessmark.record.event import Event
from witnessmark.record.job import GaugeRevision, gauge_now
from witnessmark.record.meant import exact

WHEN = ("before", "between", "after")
REACH = 1  # mm; a gauge on its master is off by no more than this, or it is not that master


def check_zero(
    state: State, stamp: Stamp, gauge: str, found: str, against: str = "closed", when: str = "before", allowed: str = ""
) -> tuple[Event, ...]:
    """What a gauge shows where it should show nothing, or the size of its master less that size.

    `allowed` is the error that is let pass; left out, it follows from what is known of the gauge. Against a master of
    the register the full reading may be typed as well: its size is taken off, and the reading kept beside.
    """
    revision = _known(state, gauge)
    if when not in WHEN:
        raise Refused(f"'{when[:40]}' is no time for a zero check; take one of {', '.join(WHEN)}")
    unit = str(revision.fields.get("unit") or "mm")
    error = _amount(gauge, "found", found, unit)
    limit = _amount(gauge, "allowed", allowed, unit) if allowed.strip() else None
    most = abs(limit.inside) if limit else allowed_zero(revision)
    size = _size(state, against.strip())
    whole = size is not None and abs(error.inside_exact) > REACH >= abs(error.inside_exact - size)
    off = error.inside_exact - size if whole and size is not None else error.inside_exact
    shown = exact(known(unit).outside(off)) if whole else _written(error, unit)
    body = {
        "gauge": gauge, "found": shown, "unit": unit, "against": against.strip() or "closed",
        "when": when, "allowed": _written(limit, unit) if limit else None,
        "passed": abs(float(off)) <= most * (1 + 1e-9), **({"read": found.strip()} if whole else {}),
    }  # fmt: skip
    return (stamp.event("zero_checked", body),)


def _size(state: State, master: str) -> Fraction | None:
    """The size that a master of the register holds [mm]; None for what holds none."""
    revision = gauge_now(state.job, master) if master else None
    if revision is None or not revision.fields.get("size"):
        return None
    amount = _amount(master, "size", str(revision.fields["size"]), str(revision.fields.get("unit") or "mm"))
    return amount.inside_exact


def compare_gauges(
    state: State, stamp: Stamp, first: str, second: str, on: str, first_read: str, second_read: str
) -> tuple[Event, ...]:
    """Two gauges on one part, at one place, by one hand: what each of them read."""
    one, two = _known(state, first), _known(state, second)
    if first == second:
        raise Refused(f"gauge {first} cannot be held against itself; name another one")
    kinds = [_quantity(state, revision) for revision in (one, two)]
    if kinds[0] != kinds[1]:
        raise Refused(f"{first} reads a {kinds[0]} and {second} a {kinds[1]}: the two cannot be compared")
    if not on.strip():
        raise Refused("say on what the two were tried, such as a ring or the stem of Inl 1F")
    unit = str(one.fields.get("unit") or "mm")
    own = _amount(first, "reading", first_read, unit)
    other = _amount(second, "reading", second_read, str(two.fields.get("unit") or "mm"))
    body = {
        "first": first, "second": second, "on": on.strip(), "first_read": _written(own, unit),
        "second_read": _written(other, unit), "unit": unit,
    }  # fmt: skip
    return (stamp.event("gauges_compared", body),)


def _known(state: State, gauge: str) -> GaugeRevision:
    revision = gauge_now(state.job, gauge)
    if revision is None:
        raise Refused(f"no gauge {gauge[:60]} in the register of this job; enter it on the job sheet first")
    kind = state.catalogue.gauge_kinds.get(str(revision.fields.get("kind")))
    if kind and kind.reads == "leaves":
        raise Refused(f"{gauge} is a set of leaves: it has no zero; measure a leaf with a micrometer instead")
    if kind and kind.reads == "size":
        raise Refused(f"{gauge} is a {kind.term}: it reads nothing; name the gauge that you hold against it")
    return revision


def _quantity(state: State, revision: GaugeRevision) -> str:
    kind: Any = state.catalogue.gauge_kinds.get(str(revision.fields.get("kind")))
    return str(kind.quantity) if kind else ""


def _amount(gauge: str, what: str, text: str, unit: str) -> Amount:
    found = read(text, unit)
    if not isinstance(found, Amount):
        said = getattr(found, "message", getattr(found, "question", ""))
        raise Refused(f"gauge {gauge}: {what} '{text[:40]}': {said}")
    return found


def _written(amount: Amount, unit: str) -> str:
    """As it was typed where it is a plain number in the gauge's own unit; else converted, exactly."""
    text = amount.text.strip().replace(",", ".").replace("\u2212", "-")
    plain = text.lstrip("+-").replace(".", "", 1).isdecimal()
    if amount.unit == unit and plain:
        return text
    return exact(known(unit).outside(amount.inside_exact))


def passed_words(body: Mapping[str, Any]) -> str:
    """What is said of a check once it is kept."""
    word = "passed" if body["passed"] else "not passed: what was read since the last good check is open again"
    return f"zero of {body['gauge']} {body['when']}: {body['found']} {body['unit']}, {word}"
