"""What the limits of a sheet say against each other: contradictions are faults, oddities are warnings.

Kinds of fault      twice      two limits of one kind for the same places
                    looser     new work is allowed outside of what may be used again
Kinds of warning    unusual    outside the usual range of the characteristic
                    no_width   low and high are the same
                    rock       a rocking limit equal to a clearance limit
                    misfit     new limits of bore and stem that leave another clearance than the one printed
                    to_check   copied, and not yet held against the document
"""

from collections.abc import Iterable, Iterator

from witnessmark.catalogue.entry import Catalogue
from witnessmark.catalogue.place import parse
from witnessmark.limits.limit import Limit, Selector
from witnessmark.quantity.show import show
from witnessmark.text.fault import Path

Placed = tuple[Limit, Path]
Said = tuple[str, str, Path]  # kind of fault, message, way

# Bore and stem whose printed limits leave a clearance this much wider than the printed one do not belong together:
# limits of one document agree to a few last digits. Our judgement.
WIDER = 3.0
STEP = {"in": 0.0001, "thou": 0.1}  # to which a clearance is shown; 0.001 in other units


def contradictions(placed: Iterable[Placed]) -> Iterator[Said]:
    """Two limits for one and the same, and work limits that are looser than service limits."""
    seen: dict[tuple[str, Selector, str, str], Limit] = {}
    for limit, path in placed:
        key = (limit.characteristic, limit.applies, limit.rule if limit.of_spread else "", limit.kind)
        if key in seen:
            message = f"a {limit.kind} limit for {limit.applies} already stands in line {seen[key].line}; keep one"
            yield "twice", message, path
            continue
        seen[key] = limit
    for key, limit in seen.items():
        service = seen.get((key[0], key[1], key[2], "service"))
        if limit.kind == "new" and service is not None:
            path = next(path for each, path in placed if each is limit)
            yield from _looser(limit, service, path)


def _looser(new: Limit, service: Limit, path: Path) -> Iterator[Said]:
    """New work outside of what may be used again: one of the two was copied wrong."""
    cure = "compare both with the page: is a point or a unit misplaced?"
    if new.low is not None and service.low is not None and new.low < service.low:
        said = f"new work may be as low as {new.low_text} {new.unit}, below the service limit"
        yield "looser", f"{said} {service.low_text} {service.unit}; {cure}", (*path, "low")
    if new.high is not None and service.high is not None and new.high > service.high:
        said = f"new work may be as high as {new.high_text} {new.unit}, above the service limit"
        yield "looser", f"{said} {service.high_text} {service.unit}; {cure}", (*path, "high")


def warnings(placed: list[Placed], catalogue: Catalogue) -> Iterator[Said]:
    """What is odd and yet possible, as listed on top."""
    for limit, path in placed:
        yield from _unusual(limit, path, catalogue)
        if limit.kind != "given" and limit.low is not None and limit.low == limit.high:
            message = f"low and high are both {limit.low_text}, so nothing can be proven within; is it a nominal size?"
            yield "no_width", message, path
    yield from _to_check(placed, catalogue)
    yield from _rock(placed)
    yield from _misfit([each for each in placed if not each[0].of_spread])


def _to_check(placed: list[Placed], catalogue: Catalogue) -> Iterator[Said]:
    """Once for each entry, whatever number of limits stands in it."""
    for entry, limit in {path[:3]: limit for limit, path in placed if limit.to_check}.items():
        term, page = catalogue.characteristics[limit.characteristic].term, f", page {limit.page}" if limit.page else ""
        said = f"{term} for {limit.applies} is copied and not checked"
        message = f"{said}; hold it against {limit.document}{page}, and take to_check out"
        yield "to_check", message, entry


def _unusual(limit: Limit, path: Path, catalogue: Catalogue) -> Iterator[Said]:
    known = catalogue.characteristics[limit.characteristic]
    side = limit.applies.for_ or (parse(limit.applies.place).side if limit.applies.place else "")
    usual = known.usual_at(side)
    if usual is None or limit.of_spread:
        return
    ends = {"low": (limit.low, limit.low_text), "high": (limit.high, limit.high_text)}
    for end, (value, text) in ends.items():
        if value is None or usual[0] <= value <= usual[1] or (limit.kind == "given" and end == "high"):
            continue
        band = f"{usual[0]:g} to {usual[1]:g} {known.unit}"
        message = f"{text} {limit.unit} lies outside what is usual for {known.term}, {band}; check point and unit"
        yield "unusual", message, path if limit.kind == "given" else (*path, end)


def _rock(placed: list[Placed]) -> Iterator[Said]:
    """A rocking limit equal to a clearance limit: two quantities, one number, most likely one copied for the other."""
    clearances = [limit for limit, _ in placed if limit.characteristic == "stem_guide_clearance"]
    for limit, path in placed:
        if limit.characteristic != "stem_wobble" or limit.high is None:
            continue
        twin = next((each for each in clearances if each.high == limit.high and each.kind == limit.kind), None)
        if twin is not None:
            said = f"the rocking limit {limit.high_text} {limit.unit} equals the clearance limit in line {twin.line}"
            yield "rock", f"{said}; the swing at the valve head is not the clearance: which one is meant?", path


def _misfit(placed: list[Placed]) -> Iterator[Said]:
    """New limits of bore and stem that leave another clearance than the one printed: a misplaced point, most likely."""
    parts = {"guide_bore", "stem_diameter", "stem_guide_clearance"}
    new = [(limit, path) for limit, path in placed if limit.kind == "new" and limit.characteristic in parts]
    for side in sorted({limit.applies.for_ for limit, _ in new}):
        of = {limit.characteristic: (limit, path) for limit, path in new if limit.applies.for_ in ("", side)}
        whole = all(limit.low is not None and limit.high is not None for limit, _ in of.values())
        if set(of) == parts and whole:
            yield from _widths(of)


def _widths(of: dict[str, Placed]) -> Iterator[Said]:
    bore, stem, clearance = (of[each][0] for each in ("guide_bore", "stem_diameter", "stem_guide_clearance"))
    low = (bore.low or 0.0) - (stem.high or 0.0)
    high = (bore.high or 0.0) - (stem.low or 0.0)
    printed = (clearance.high or 0.0) - (clearance.low or 0.0)
    if high - low > WIDER * printed:
        step = STEP.get(clearance.unit, 0.001)
        implied = f"{show(low, clearance.unit, step)} to {show(high, clearance.unit, step)}"
        said = f"bore and stem leave a clearance of {implied} {clearance.unit}"
        printed_text = f"{clearance.low_text} to {clearance.high_text}"
        message = f"{said}, and the clearance limit says {printed_text}; is a point misplaced in one of the three?"
        yield "misfit", message, of["stem_diameter"][1]
