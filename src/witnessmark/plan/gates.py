"""Gates: what must be so before work goes on, and what the readings say of it."""

from collections.abc import Iterable, Mapping, Sequence

from witnessmark.judge.result import OUT, WITHIN, Result

# What a gate looks at. Of the first group every one must be looked at; of a group of ways one is enough.
LOOKS_AT: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "sound": (("head_cracks",), ("jacket_pressure_test",)),
    "cam_line": (("cam_bore_alignment", "cam_bore_roundness"),),
}


def passed(gate: str, results: Iterable[Result], round_: str = "as found") -> bool | None:
    """Whether a gate is passed: True, False, or None while something that it asks for has no clear answer.

    Doubt is no answer: what is too close to call, or seen by a method that proves nothing, keeps the gate shut without
    saying that it failed.
    """
    found: dict[str, list[Result]] = {}
    for one in results:
        if one.round == round_:
            found.setdefault(one.characteristic, []).append(one)
    said = [_of_ways(ways, found) for ways in LOOKS_AT[gate]]
    if False in said:
        return False
    return None if None in said else True


def _of_ways(ways: Sequence[str], found: Mapping[str, Sequence[Result]]) -> bool | None:
    rows = [one for name in ways for one in found.get(name, ())]
    if any(one.verdict == OUT for one in rows):
        return False
    clear = rows and all(one.verdict == WITHIN and one.decided for one in rows)
    return True if clear else None
