"""A reading asked back: what came, why it looks odd, and up to three answers, in a colleague's words."""

from witnessmark.judge.slip import Slip

UNIT_WORDS = {"in": "inch", "mm": "mm", "thou": "thou", "um": "µm"}


def sentence(slip: Slip, where: str, raw: str, then: str, unit: str) -> str:
    """One sentence with numbers. `then` is the value it would have, shown in `unit`."""
    if slip.kind == "unlike":
        against = "the usual range" if slip.first else "its neighbours"
        return f"{where} came as {raw}: far from {against}, which lie near {then} {unit}. Is it so?"
    read = {"inch": "Read in inch", "mm": "Read in millimetre", "thou": "Read in thou"}.get(
        slip.kind, "With the point moved"
    )
    near = "which is usual here" if slip.first else "near them"
    return f"{where} came as {raw}: {apart(slip)}. {read} it is {then} {unit}, {near}."


def apart(slip: Slip) -> str:
    """How far over or under, as a number of times."""
    against = "what is usual here" if slip.first else "its neighbours"
    ratio = abs(slip.apart)
    if ratio >= 1.5:
        return f"{ratio:.3g} times {against}"
    if 0 < ratio <= 1 / 1.5:
        return f"{1 / ratio:.3g} times under {against}"
    return f"unlike {against}"


def labels(slip: Slip, then: str, raw: str, unit: str) -> tuple[str, str]:
    """Words for the two readings of it: the slip, and as it came."""
    came = UNIT_WORDS.get(unit, unit)
    if slip.kind in ("inch", "mm", "thou"):
        return f"it was {UNIT_WORDS.get('in' if slip.kind == 'inch' else slip.kind)}", f"it was {came}"
    if slip.kind == "point":
        return f"{then}", f"{raw} is right"
    return "it is so", ""
