"""The clamp of a bolt by the numbers: what its stages make of it, whether they take it to yield, what friction leaves.

For looking ahead and for warnings. It accepts no bolt and changes no torque: the document's stages hold.
"""

from dataclasses import dataclass
from math import pi, radians

from witnessmark.limits.procedure import Procedure, Shape
from witnessmark.mechanics import joint, preload
from witnessmark.mechanics.law import OutsideLaw
from witnessmark.mechanics.spread import Spread
from witnessmark.mechanics.thread import Thread, designated
from witnessmark.mechanics.wrench import permissible_share

BEARING = 1.35  # diameters: mean bearing face of a hexagon head, where nobody measured it (value from memory)
TURN_ERROR = radians(5)  # by hand (judgement)
STIFFNESS = 0.3  # share by which an entered or reckoned rate of the parts may be out to either side (judgement)


@dataclass(frozen=True, slots=True)
class Clamp:
    """What the stages make of one bolt, each with its ends.

    snug, final    preload after the last torque and after the last angle [N]; final is None where stiffness is unknown
    used           share of the yield strength that pull and twist use at the end; from 1 on it yields
    per_degree     preload for each degree past snug [N]
    lubricant      times the meant clamp that the threads as they are make; None where they are as meant
    assumed        what was taken for want of better, in words
    missing        what would have to be known, in words
    """

    thread: Thread
    snug: Spread
    final: Spread | None
    used: Spread | None
    per_degree: float | None
    lubricant: Spread | None
    assumed: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def yields(self) -> str:
        """`will`, `may` or "" by the numbers with their ends."""
        if self.used is None or self.used.high < 1:
            return ""
        return "will" if self.used.low >= 1 else "may"


def clamp(procedure: Procedure, threads: str = "", group: str = "") -> Clamp | None:
    """The clamp of the bolts of a group; None where no thread or no torque is known.

    `threads` is how they are lubricated in fact, "" as the document means it. Raises OutsideLaw for a thread, class or
    condition that no table has.
    """
    stages = [one for one in procedure.stages if one.group in ("", group) and one.kind != "again"]
    torques = [one.inside for one in stages if one.kind == "torque" and one.inside]
    if not procedure.thread or not torques:
        return None
    thread = designated(procedure.thread)
    meant = procedure.threads or "oiled"
    assumed = [] if procedure.threads else ["threads oiled"]
    bearing = procedure.shape.bearing if procedure.shape else None
    if bearing is None:
        bearing = BEARING * thread.nominal
        assumed.append(f"the head turns on a mean diameter of {BEARING:g} diameters")
    friction = preload.friction(threads or meant)
    ends = (thread.pitch, thread.pitch_diameter, bearing)
    snug = preload.preload_range(torques[-1], *ends, *friction, float(permissible_share(torques[-1])))
    turned = sum(one.inside or 0.0 for one in stages if one.kind == "angle")
    missing = [] if procedure.strength else ["the class on the head of the bolt, for its yield strength"]
    final, per_degree = snug, None
    if turned:
        rates = _rates(procedure.shape, thread)
        if rates is None:
            return Clamp(thread, snug, None, None, None, _changed(ends, meant, threads), tuple(assumed), (
                *missing, "free lengths of the bolt and the stiffness of what it clamps"))  # fmt: skip
        final = joint.turned_range(snug, turned, min(TURN_ERROR, turned), thread.pitch, rates)
        per_degree = radians(1) * thread.pitch / (2 * pi) * rates[1]
        assumed.append(f"the stiffness of the parts within {STIFFNESS:.0%}, the angle within 5°")
    used = _used(final, thread, friction, procedure) if procedure.strength else None
    return Clamp(thread, snug, final, used, per_degree, _changed(ends, meant, threads), tuple(assumed), tuple(missing))


def _rates(shape: Shape | None, thread: Thread) -> tuple[float, float, float] | None:
    """Rate of the joint, low, middle and high [N/mm]."""
    if shape is None or shape.joint_rate is None:
        return None
    free = [(length, thread.root_area if wide is None else float(joint.circle(wide)), joint.STEEL)
            for length, wide in shape.segments]  # fmt: skip
    bolt = joint.bolt_rate([*free, *joint.end_segments(thread.nominal, thread.root_area, shape.held)])
    low, middle, high = (float(joint.joint_rate(bolt, shape.joint_rate * share))
                         for share in (1 - STIFFNESS, 1.0, 1 + STIFFNESS))  # fmt: skip
    return low, middle, high


def _used(final: Spread, thread: Thread, friction: tuple[float, float], procedure: Procedure) -> Spread:
    """Share of the yield strength: the pull over the pull that alone with its twist would be at yield."""
    limit = preload.strength(procedure.strength, thread.nominal).yields
    waist = min((wide for _, wide in procedure.shape.segments if wide), default=None) if procedure.shape else None
    least = min(thread.stress_diameter, waist or thread.stress_diameter)

    def at_yield(mu: float) -> float:
        return float(preload.preload_at_yield(limit, thread.pitch, thread.pitch_diameter, least, mu, 1.0))

    low, high = friction
    return Spread(final.low / at_yield(low), final.middle / at_yield((low + high) / 2), final.high / at_yield(high))


def _changed(ends: tuple[float, float, float], meant: str, threads: str) -> Spread | None:
    if not threads or threads == meant:
        return None
    return preload.lubricant_change(*ends, preload.friction(meant), preload.friction(threads))


__all__ = ["Clamp", "OutsideLaw", "clamp"]
