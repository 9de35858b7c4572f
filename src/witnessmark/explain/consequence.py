"""What work does to a characteristic, in one sentence with the sum behind it, and why it then holds or does not."""

from functools import lru_cache

from witnessmark.catalogue.entry import Catalogue, GaugeKind
from witnessmark.explain.why import why
from witnessmark.explain.words import shown_in, with_unit
from witnessmark.judge.result import Result
from witnessmark.plan.result import LedgerRow

ROUND = "predicted"
DUST = 1e-9  # relative
# The digits that a prediction is told with where the catalogue names no gauge for it: (step, unit of the step).
STEPS = {"length": ("0.01", "mm"), "force": ("1", "N"), "rate": ("0.1", "N/mm"), "angle_crank": ("0.01", "deg crank"),
         "angle_cam": ("0.01", "deg cam"), "angle_plane": ("0.1", "deg"), "volume": ("0.01", "mL"),
         "ratio": ("0.01", "1"), "pressure": ("1", "kPa"), "torque": ("1", "N·m")}  # fmt: skip
BELOW_NOTHING = {
    "valve_lash": "the cam would hold the valve open",
    "coil_bind_clearance": "the coils would touch before full lift",
    "retainer_seal_clearance": "the retainer would strike the seal",
    "retainer_seal_gap": "the retainer would strike the seal with the valve shut",
    "ptv_axial": "the piston would strike the valve",
    "squish": "the piston would strike the head",
    "hole_spare": "the bolt would bottom in its hole",
    "dowel_room": "the head would stand on its dowels",
    "cam_line_margin": "the camshaft would be held in its bores",
    "margin": "nothing would be left of the margin",
    "seat_width": "nothing would be left of the seat",
    "stem_guide_clearance": "the stem would not enter its guide",
}


@lru_cache(maxsize=1024)
def _step(gauge: GaugeKind | None, dimension: str) -> tuple[str, str]:
    """The last digit of the usual gauge, where one is read for lengths in mm; else what a prediction is worth."""
    if gauge is None or dimension != "length" or gauge.unit != "mm" or not 0 < gauge.resolution <= 0.01:
        return STEPS.get(dimension, STEPS["length"])
    return f"{gauge.resolution:g}", gauge.unit


def as_result(row: LedgerRow, catalogue: Catalogue, value: float | None = None) -> Result:
    """A row as a result whose value is the predicted one (or `value`), so that all words and marks serve it too."""
    entry = catalogue.characteristics[row.characteristic]
    step, unit = _step(catalogue.gauge_kinds.get(entry.usual_gauge), row.dimension)
    return Result(
        characteristic=row.characteristic, location=row.location, round=ROUND, rule="each",
        value=_clean(row.predicted if value is None else value, row), interval=None, u=row.u, dof=None,
        verdict=row.verdict,
        p_within=row.p_within, against=row.against, gauges=(), complete=True, read=1, needed=1, sources=(),
        guard_within=row.guard, guard_out=row.guard, beyond=_beyond(row),
        reason=f"value {_word(row.verdict)}" if row.verdict else "no limit",
        quantity=row.dimension, fine=entry.fine, step=step, step_unit=unit,
    )  # fmt: skip


def _clean(value: float | None, row: LedgerRow) -> float | None:
    """Without the dust of adding up: a sum that is its limit is written as the limit."""
    held = row.against
    for end in (held.low, held.high) if held is not None and value is not None else ():
        if end is not None and value is not None and abs(value - end) < DUST * max(abs(end), 1.0):
            return end
    return value


def _word(verdict: str) -> str:
    return "close" if verdict == "too close to call" else verdict


def _beyond(row: LedgerRow) -> float | None:
    held, value = row.against, row.predicted
    if row.verdict != "out" or held is None or value is None:
        return None
    under = held.low - value if held.low is not None else 0.0
    over = value - held.high if held.high is not None else 0.0
    return max(under, over, 0.0)


def named(operation: str) -> str:
    """An operation as a noun: seat cut, spring shim."""
    return operation.replace("_", " ")


def why_row(row: LedgerRow, catalogue: Catalogue, display: str = "mm") -> str:
    """One row explained: the sum behind it, how it stands against its limit, what it would mean."""
    if row.predicted is None:
        return f"Not known: {row.unknown}. Measure it or enter it." if row.unknown else "Not known."
    told = [the_sum(row, catalogue, display)]
    if row.verdict:
        told.append(why(as_result(row, catalogue), display))
    meaning = BELOW_NOTHING.get(row.characteristic)
    if meaning and row.predicted < 0:
        told.append(f"Below nothing: {meaning}.")
    if row.unexplained is not None:
        told.append(contradiction(row, catalogue, display))
    return " ".join(told)


def the_sum(row: LedgerRow, catalogue: Catalogue, display: str = "mm") -> str:
    """`44.00 + 0.20 (seat cut) + 0.07 (face grind) = 44.27 mm.`"""
    write = shown_in(as_result(row, catalogue), display)
    assert row.predicted is not None
    end = with_unit(write.number(row.predicted), write.result, display)
    if row.before is None:
        return f"{end} after this work; not known before it."
    if not row.terms:
        return f"{end}; this work does not move it."
    moves = " ".join(f"{'+' if by > 0 else '−'} {write.distance(abs(by))} ({named(what)})" for what, by in row.terms)
    return f"{write.number(row.before)} {moves} = {end}."


def contradiction(row: LedgerRow, catalogue: Catalogue, display: str = "mm") -> str:
    """What the gauge says after the work and the geometry cannot explain."""
    assert row.after is not None and row.unexplained is not None
    write = shown_in(as_result(row, catalogue), display)
    side = "above" if row.unexplained > 0 else "under"
    apart = write.distance(abs(row.unexplained))
    return (f"The gauge now reads {write.number(row.after)}, {apart} {side} what this work explains: "
            "measure again, and ask what else was done.")  # fmt: skip
