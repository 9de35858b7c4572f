"""Who stands where with what in hand, and what comes of one line: the shapes that every line of the bench shares."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Any

from witnessmark.catalogue.entry import Characteristic
from witnessmark.desk.route import Stop
from witnessmark.desk.state import State
from witnessmark.quantity.show import decimals
from witnessmark.record.event import Event
from witnessmark.record.job import Setting, gauge_now

ROUNDS = ("as found", "trial part", "back from machining", "as assembled")


@dataclass(frozen=True, slots=True)
class Bench:
    """A line's station, gauge, person, device and time; `id` names the event that it becomes."""

    id: str
    characteristic: str
    place: str
    round: str = "as found"
    gauge: str | None = None
    by: str = ""
    device: str = ""
    device_seq: int = 0
    at: str = ""
    part: str | None = None
    temperature: Mapping[str, Any] | None = None
    supersedes: str | None = None
    reason: str | None = None
    question: str | None = None  # the one that the entry line shows, which is answered first
    note: str = ""
    method: str | None = None  # of what is looked at
    photos: tuple[str, ...] = ()  # hashes of photos that the store has
    mark: Mapping[str, str] | None = None  # where on the drawing, as shares of its width and height


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a line.

    status   kept | asked (kept, not counted, walk on) | which (two meanings, stay) | unread (stay) | done | unit |
             repeat | note | nothing | refused
    """

    status: str
    echo: str = ""
    detail: str = ""
    events: tuple[Event, ...] = ()
    next: Stop | None = None
    span: tuple[int, int] | None = None
    question: Mapping[str, Any] | None = None
    reading: str | None = None
    extra: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class InUse:
    """The gauge in use: one of the register, or the usual one of its kind, taken as known (`name` None)."""

    name: str | None
    revision: int | None
    kind: str
    unit: str
    leaves: tuple[Decimal, ...]
    decimals: int | None
    setting: Setting | None


class Refused(ValueError):
    """A command that cannot be carried out; the message says why and what to do. `faults` names places in a file."""

    def __init__(self, message: str, faults: tuple[Any, ...] = ()) -> None:
        super().__init__(message)
        self.faults = faults


def in_use(state: State, gauge: str | None, entry: Characteristic) -> InUse:
    """The gauge named, or the usual one. Raises Refused for a gauge that the register does not have."""
    if not gauge:
        usual = state.catalogue.gauge_kinds[entry.usual_gauge]
        leaves = tuple(Decimal(text) for text in usual.leaves_text)
        return InUse(None, None, usual.kind, usual.unit, leaves, None, None)
    revision = gauge_now(state.job, gauge)
    if revision is None:
        raise Refused(f"no gauge {gauge} in the register of this job; enter it on the job sheet or pick another")
    fields = revision.fields
    name = str(fields.get("unit") or "mm")
    try:
        leaves = tuple(Decimal(str(leaf)) for leaf in fields.get("set") or ())
        step = Fraction(str(fields["resolution"])) if fields.get("resolution") else None
    except (ArithmeticError, TypeError, ValueError):
        raise Refused(f"gauge {gauge}: its step or a leaf is no number; enter it anew on the job sheet") from None
    shown = decimals(step, name, name) if step else None
    return InUse(gauge, revision.revision, str(fields.get("kind", "")), name, leaves, shown, last_setting(state, gauge))


def last_setting(state: State, gauge: str) -> Setting | None:
    """The setting of a comparing gauge that is in force."""
    made = [setting for setting in state.job.settings.values() if setting.gauge == gauge]
    return max(made, key=lambda setting: setting.seq, default=None)
