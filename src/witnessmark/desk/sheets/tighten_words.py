"""The sentences of the tightening sheet: where a bolt sits, why to stop, what lies together, what can hurt."""

from itertools import pairwise

from witnessmark.assemble.stages import ALL, APART, NEAREST, Run
from witnessmark.desk.state import State
from witnessmark.limits.procedure import Procedure
from witnessmark.quantity.unit import unit

LAST_CHANCE = ("valve_lash", "hla_preload", "cam_end_play", "tensioner_extension", "cam_timing", "chain_elongation",
               "installed_height", "deck_clearance")  # fmt: skip
"""What cannot be read any more, or not as it was found, once the joint is open."""


def where_words(procedure: Procedure, bolt: str) -> str:
    """Where a bolt lies in the words of the bench: `inlet side, cyl. 3 to 4`, `rear, exhaust side`."""
    if bolt == ALL:
        return f"half a turn each, round after round: {', '.join(procedure.order)}"
    place = next((one for one in procedure.bolts if one.bolt == bolt), None)
    if place is None:
        return ""
    ys = [one.y for one in procedure.bolts]
    middle = (max(ys) + min(ys)) / 2
    side = "" if max(ys) == min(ys) else "middle row" if place.y == middle else (
        "inlet side" if place.y > middle else "exhaust side")  # fmt: skip
    return ", ".join(filter(None, (side, _along(procedure, place.x), place.group)))


def _along(procedure: Procedure, x: float) -> str:
    xs = [one.x for one in procedure.bolts]
    if max(xs) == min(xs):
        return ""
    if x in (min(xs), max(xs)):
        return "front" if x == min(xs) else "rear"
    cylinders = procedure.cylinders
    for (one, before), (other, after) in pairwise(cylinders):
        if before <= x <= after:
            return f"cyl. {one} to {other}"
    return f"{sorted(set(xs)).index(x) + 1}. from the front"


def torque_text(torque: float, name: str) -> str:
    """A torque, inside in N·mm, in a unit of the sheet."""
    return f"{torque / float(unit(name, 'torque').factor):.3g}"


def stop_words(run: Run) -> tuple[str, str]:
    """Why to stop now, and the figures; ("", "") where nothing is to be stopped for."""
    stop = run.stop
    if stop is None:
        return "", ""
    name = next((one.unit for one in run.bolts[stop.bolt].turns if one.stage == stop.stage), "") or "N·m"

    def shown(torque: float) -> str:
        return torque_text(torque, name)

    behind = stop.side == "behind"
    why = ("fell behind the others: thread pulling or bolt yielding" if behind else
           "is far above the others: thread dry or hurt, hole wet, or the bolt bottoms")  # fmt: skip
    apart = shown(abs(stop.torque - stop.middle))
    figures = (f"{shown(stop.torque)} {name}, the others {shown(stop.low)} to {shown(stop.high)} · {apart} "
               f"{'under' if behind else 'over'} their middle, {APART:.0f} × {shown(stop.spread)} allowed")  # fmt: skip
    return f"Stop. Bolt {stop.bolt} {why}. Take it out and look before going on.", figures


def final_words(run: Run) -> str:
    """How the final torques of the last stage that has several lie together."""
    for work in reversed(run.works):
        read = [(turn.torque, turn.unit) for bolt in run.bolts.values() for turn in bolt.turns
                if turn.stage == work.number and turn.torque is not None]  # fmt: skip
        if len(read) >= NEAREST and run.stop is None:
            name = read[0][1] or "N·m"
            low, high = (torque_text(end, name) for end in (min(read)[0], max(read)[0]))
            return f"The {len(read)} final torques lie together, {low} to {high} {name}."
    return ""


def cautions(state: State, procedure: Procedure, run: Run | None) -> tuple[tuple[str, str], ...]:
    """What can hurt at this joint, by the catalogue: a bolt that breaks, liquid in a blind hole; nothing else."""
    hazards = state.catalogue.hazards
    wanted = []
    if procedure.stretch_bolts or procedure.angled:
        wanted.append("stretched_bolt")
    tapped = procedure.shape is None or procedure.shape.held == "tapped"
    if tapped and not procedure.caps and (run is None or run.way == "tighten"):
        wanted.append("liquid_in_hole")
    if procedure.caps:
        wanted.append("stored_spring_energy")
    return tuple((hazards[one].term, hazards[one].text) for one in wanted if one in hazards)


def measure_before(state: State) -> tuple[str, ...]:
    """What is measured before anything comes off and has no reading yet, by its term."""
    read = {one.characteristic for one in state.job.readings}
    asked = {one.characteristic for one in state.route} if state.layout else set()
    return tuple(state.catalogue.characteristics[one].term for one in LAST_CHANCE
                 if one in asked and one not in read and one in state.catalogue.characteristics)  # fmt: skip
