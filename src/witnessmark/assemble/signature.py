"""What the shape of a trace usually means: signatures of thread, bolt, gasket and sequence.

Each is a finding with numbers and what it usually means, never a verdict. The meanings are common practice, no source;
so is the limit of three scaled median deviations. The share of a tooth is a judgement.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from witnessmark.assemble.stages import APART
from witnessmark.assemble.trace import Floats, cleaned
from witnessmark.assemble.traces import Traced, TraceSet, Unlike
from witnessmark.quantity.unit import unit

TEETH = 4  # drops of torque that make a saw
TOOTH = 0.02  # of the final torque: a drop that is seen
NOISE = 10.0  # standard deviations of the noise from point to point, below which a drop is none
MEANS = {
    "few_degrees": "Thread dry or hurt, crossed thread, bolt on the bottom of its hole, or oil or water in the hole. "
                   "Take it out and look at bolt, thread and hole.",
    "many_degrees": "Gasket wrong or missing, dirt under a face, soft washer, thread pulling, or a bolt of another "
                    "length. Take it out and look.",
    "early_break": "Weak bolt, one that was stretched before, or a thread that pulls. Renew the bolt, and look at the "
                   "thread.",
    "saw_tooth": "Stick-slip: the thread or the seat of the head binds and lets go. Clean and lubricate as the "
                 "service information says, or renew the bolt.",
    "torque_apart": "Friction or thread unlike that of the others: pull this bolt and look.",
    "long_turn": "The joint was not closed when the angle was begun, or the sequence was lost. Look whether all bolts "
                 "reached the first torque before any was turned by angle.",
}  # fmt: skip
"""Stable id of a signature -> what it usually means."""


@dataclass(frozen=True, slots=True)
class Signature:
    """A signature in the trace of one bolt. Torques of `figures` in N·mm, angles in degrees."""

    id: str
    bolt: str
    figures: tuple[float, ...]

    @property
    def means(self) -> str:
        """What it usually means."""
        return MEANS[self.id]


def signatures(all_: TraceSet) -> tuple[Signature, ...]:
    """Every signature of a set, bolt by bolt. What needs neighbours is told only where there are enough of them."""
    return tuple(found for one in all_.bolts for found in _of(one, all_))


def _of(one: Traced, all_: TraceSet) -> Iterator[Signature]:
    against = {name: all_.against.get((one.bolt, name)) for name in ("end from snug", "final torque", "slope")}
    turn, torque, slope = against.values()
    if turn and torque and turn.apart < -APART and torque.apart > -1:
        yield _compared("few_degrees", one, turn, torque)
    if turn and slope and turn.apart > APART:
        if slope.apart < -APART:
            yield _compared("many_degrees", one, turn, slope)
        elif one.points.yielded.angle is None:  # behind yield the bolt stretches: that is no open joint
            yield _compared("long_turn", one, turn, slope)
    yield from _early(one, all_)
    teeth = drops(one)
    if len(teeth) >= TEETH:
        yield Signature("saw_tooth", one.bolt, (float(len(teeth)), float(np.median(teeth))))
    if torque and abs(torque.apart) > APART:
        yield Signature("torque_apart", one.bolt, (torque.value, torque.median, torque.apart))


def _compared(id: str, one: Traced, *against: Unlike) -> Signature:
    return Signature(id, one.bolt, tuple(n for each in against for n in (each.value, each.median)))


def _early(one: Traced, all_: TraceSet) -> Iterator[Signature]:
    """A break of the slope at a torque that the others passed, or ended at, without one."""
    broke, torque = one.points.yielded, all_.against.get((one.bolt, "final torque"))
    if broke.torque is None or broke.angle is None or torque is None:
        return
    others = [other.points.yielded.torque or other.points.end.torque for other in all_.bolts if other is not one]
    reached = float(np.median([value for value in others if value is not None]))
    if reached - broke.torque > APART * torque.spread:
        yield Signature("early_break", one.bolt, (broke.torque, broke.angle, reached))


def drops(one: Traced) -> Floats:
    """The drops of torque between snug and yield that are neither noise nor small, each as deep as it is."""
    begin, end = one.points.snug.angle, one.points.yielded.angle
    if begin is None:
        return np.array([])
    x, y = cleaned(one.angle, one.torque)
    part = y[(x >= begin) & (x <= (x[-1] if end is None else end))]
    if len(part) < 10:
        return np.array([])
    noise = float(np.median(np.abs(np.diff(part, 2)))) / 0.6745 / np.sqrt(6)
    under = np.maximum.accumulate(part) - part
    deep = under > max(TOOTH * float(y[-1]), NOISE * noise)
    edges = np.flatnonzero(np.diff(np.concatenate(([0], deep.astype(int), [0]))))
    return np.array([under[first:after].max() for first, after in edges.reshape(-1, 2)])


def said(one: Signature, shown: str = "N·m") -> str:
    """A signature as a sentence, torques in the unit `shown`."""
    factor = float(unit(shown, "torque").factor)

    def torque(value: float) -> str:
        return f"{value / factor:.3g}"

    f = one.figures
    match one.id:
        case "few_degrees":
            return f"Bolt {one.bolt} turned {f[0]:.0f}° from snug, the others {f[1]:.0f}°, and ended at " \
                   f"{torque(f[2])} {shown}, the others at {torque(f[3])}."  # fmt: skip
        case "many_degrees" | "long_turn":
            return f"Bolt {one.bolt} turned {f[0]:.0f}° from snug, the others {f[1]:.0f}°; it rose by {torque(f[2])} " \
                   f"{shown} for a degree, the others by {torque(f[3])}."  # fmt: skip
        case "early_break":
            return f"Bolt {one.bolt} gave way at {torque(f[0])} {shown}, {f[1]:.0f}°; the others went to " \
                   f"{torque(f[2])} {shown}."  # fmt: skip
        case "saw_tooth":
            return f"The torque of bolt {one.bolt} dropped {f[0]:.0f} times on the way up, by {torque(f[1])} {shown} " \
                   "in the middle."  # fmt: skip
        case _:
            side = "above" if f[2] > 0 else "below"
            return f"Bolt {one.bolt} ended at {torque(f[0])} {shown}, {abs(f[2]):.1f} scaled median deviations " \
                   f"{side} the others with {torque(f[1])}."  # fmt: skip
