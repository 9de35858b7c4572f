"""The places of an engine in the order that a hand walks them, and which part belongs to which.

A hand goes along one row: bank by bank, the inlet row front to rear, then the exhaust row; on a camshaft from its
front to its rear; at each location through its stations in the order of the catalogue.
"""

from itertools import pairwise

from witnessmark.catalogue.entry import JOURNAL_PARTS, KINDS_OF_PLACE, VALVE_PARTS, Characteristic
from witnessmark.engine.place import PlaceError, parse, shown
from witnessmark.engine.shape import Layout
from witnessmark.text.near import did_you_mean

FACES = {kind: kind.replace("_", "-") for kind in ("gasket_face", "inlet_face", "exhaust_face", "upper_face")}
PLACES = KINDS_OF_PLACE


def locations(layout: Layout, at: str) -> tuple[str, ...]:
    """Every location of a kind of place, in walking order; PlaceError for a kind that is not known.

    `middle_journal` is every journal between the outer two; a camshaft on two journals is read at its middle, and
    its location is then the camshaft itself. `cam_bore` and `cam_cap` stand at their journal. `manifold_face` is the
    inlet face and the exhaust face. `drive` is one, or one of each bank where camshafts are in the heads.
    """
    if at in VALVE_PARTS:
        return _valves(layout)
    if at == "lobe":
        return _lobes(layout)
    if at == "cam" or at in JOURNAL_PARTS:
        return tuple(place for cam in _cams(layout) for place in _on_cam(layout, cam, at))
    if at == "chamber":
        return tuple(f"chamber-{number}" for _, numbers in layout.banks for number in numbers)
    if at == "drive":
        return tuple(_prefixed(bank, at) for bank in _cam_banks(layout))
    if at == "manifold_face":
        return tuple(_prefixed(bank, face) for bank, _ in layout.banks for face in ("inlet-face", "exhaust-face"))
    if at in FACES or at == "head":
        return tuple(_prefixed(bank, FACES.get(at, at)) for bank, _ in layout.banks)
    if at == "engine":
        return ("engine",)
    if at == "bolt":
        return tuple(_prefixed(bank, f"bolt-{n}") for bank, _ in layout.banks for n in range(1, layout.head_bolts + 1))
    raise PlaceError(f"'{at}' is no kind of place; known: {', '.join(PLACES)}")


def stations(layout: Layout, entry: Characteristic, *, quick: bool = False) -> tuple[str, ...]:
    """Every place of one characteristic in walking order; none where valve gear or cam drive have no such thing.

    With `quick`, the worst places only, as far as the characteristic names them.
    """
    if _lacks(layout, entry):
        return ()
    words = _station_words(layout, entry, entry.quick_stations if quick else entry.stations)
    return tuple(_stationed(place, word) for place in locations(layout, entry.at) for word in words)


def optional_stations(layout: Layout, entry: Characteristic) -> tuple[str, ...]:
    """Further places that may be read and are not asked for; `between` is each pair of neighbouring cylinders."""
    found: list[str] = []
    for place in locations(layout, entry.at) if entry.optional and not _lacks(layout, entry) else ():
        numbers = next((numbers for bank, numbers in layout.banks if bank == parse(place).bank), ())
        for word in entry.optional:
            words = [f"between-{a}-{b}" for a, b in pairwise(numbers)] if word == "between" else [word]
            found.extend(_stationed(place, each) for each in words)
    return tuple(found)


def misplaced(layout: Layout, entry: Characteristic, place: str) -> str:
    """Why a place is none of this characteristic's in this engine, and what to write; "" if it is one."""
    known = stations(layout, entry) + optional_stations(layout, entry)
    if place in known:
        return ""
    if not known:
        return f"this engine has no place for {entry.term}: its {_lacks(layout, entry)}"
    try:
        parse(place)
    except PlaceError as error:
        return str(error)
    cure = did_you_mean(place, known) or f"; its first place is '{known[0]}'"
    return f"{entry.term} is not read at '{place}' ({shown(place)}) in this engine{cure}"


def related(place: str, at: str, layout: Layout) -> str:
    """The location of another kind that belongs to a place: the lobe of a valve, the cam of a journal.

    PlaceError where there is none, such as the lobe of a bolt.
    """
    known = parse(place)
    if known.where.startswith("chamber"):
        found = {"chamber": known.where}
        bank = layout.bank_of(known.cylinder or 0)
    elif known.cylinder is not None:
        valve = f"{known.side}-{known.cylinder}{known.position}"
        found = {**dict.fromkeys(VALVE_PARTS, valve), "lobe": _lobe(layout, valve), "cam": _cam_of(layout, valve)}
        found["chamber"] = f"chamber-{known.cylinder}"
        bank = layout.bank_of(known.cylinder)
    else:
        bank = known.bank
        found = {"cam": _prefixed(bank, known.where.split("/")[0])} if known.where.startswith("cam") else {}
        if "/journal" in known.where:
            found |= dict.fromkeys(JOURNAL_PARTS, known.location)
        if known.where.startswith("bolt"):
            found["bolt"] = known.location
    if layout.cam_in_block or len(layout.banks) == 1 or bank:
        found["drive"] = "drive" if layout.cam_in_block else _prefixed(bank, "drive")
    if bank or len(layout.banks) == 1:
        found |= {face: _prefixed(bank, where) for face, where in {**FACES, "head": "head"}.items()}
    found["engine"] = "engine"
    if at not in found:
        raise PlaceError(f"'{place}' ({shown(place)}) has no {at.replace('_', ' ')} of its own")
    return found[at]


def _lacks(layout: Layout, entry: Characteristic) -> str:
    """What this engine has in place of what the characteristic needs; "" where it has all."""
    if entry.gears and layout.gear not in entry.gears:
        return f"valve gear is {layout.gear}"
    if entry.layouts and layout.layout not in entry.layouts:
        return f"cylinders stand {'in line' if layout.layout == 'inline' else layout.layout}"
    return f"cam drive is a {layout.drive}" if entry.drives and layout.drive not in entry.drives else ""


def _prefixed(bank: str, where: str) -> str:
    return f"{bank}/{where}" if bank else where


def _stationed(place: str, word: str) -> str:
    return f"{place}/{word}" if word else place


def _station_words(layout: Layout, entry: Characteristic, words: tuple[str, ...]) -> tuple[str, ...]:
    own = words or ("",)
    if entry.at != "spring" or layout.springs == 1:
        return own
    return tuple(f"{spring}/{word}".rstrip("/") for spring in ("outer", "inner") for word in own)


def _row(layout: Layout, numbers: tuple[int, ...], side: str) -> list[str]:
    return [f"{side}-{number}{position}" for number in numbers for position in dict(layout.valves)[side]]


def _valves(layout: Layout) -> tuple[str, ...]:
    return tuple(
        valve for _, numbers in layout.banks for side, _ in layout.valves for valve in _row(layout, numbers, side)
    )


def _cam_banks(layout: Layout) -> tuple[str, ...]:
    return ("",) if layout.cam_in_block else tuple(bank for bank, _ in layout.banks)


def _cams(layout: Layout) -> tuple[str, ...]:
    return tuple(_prefixed(bank, cam) for bank in _cam_banks(layout) for cam in layout.cams)


def _on_cam(layout: Layout, cam: str, at: str) -> tuple[str, ...]:
    journals = tuple(f"{cam}/journal-{n}" for n in range(1, layout.cam_journals + 1))
    if at == "middle_journal":
        return journals[1:-1] or (cam,)
    return (cam,) if at == "cam" else journals


def _lobes(layout: Layout) -> tuple[str, ...]:
    ranks = [tuple(numbers) for _, numbers in layout.banks]
    if layout.cam_in_block:  # one shaft: front to rear, the banks by turns
        longest = max(map(len, ranks))
        ranks = [tuple(each[n] for n in range(longest) for each in ranks if n < len(each))]
    found: list[str] = []
    for numbers in ranks:
        if len(layout.cams) == 2:
            found += [valve for side, _ in layout.valves for valve in _row(layout, numbers, side)]
        else:
            singles = [(number, side) for number in numbers for side, _ in layout.valves]
            found += [valve for number, side in singles for valve in _row(layout, (number,), side)]
    return tuple(_lobe(layout, valve) for valve in found)


def _lobe(layout: Layout, valve: str) -> str:
    side, _, name = valve.partition("-")
    return f"cam-{side}/lobe-{name}" if len(layout.cams) == 2 else f"cam/lobe-{valve}"


def _cam_of(layout: Layout, valve: str) -> str:
    known = parse(valve)
    cam = f"cam-{known.side}" if len(layout.cams) == 2 else "cam"
    return _prefixed("" if layout.cam_in_block else layout.bank_of(known.cylinder or 0), cam)
