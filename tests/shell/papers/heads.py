"""Jobs to print: the Tern 2.0 with every verdict, and those that try a paper. All invented."""

from collections.abc import Iterator, Sequence
from hashlib import sha256
from io import BytesIO
from typing import Any

from witnessmark.record.event import Event

TERN: dict[str, Any] = {
    "layout": "inline", "cylinders": "4", "valves": {"inl": ["f", "r"], "exh": ["f", "r"]}, "gear": "bucket_shim",
    "head": "aluminium",
}  # fmt: skip
EGRET: dict[str, Any] = {
    "layout": "v", "cylinders": "8", "valves": {"inl": "1", "exh": "1"}, "gear": "pushrod", "head": "iron",
}  # fmt: skip
WREN: dict[str, Any] = {
    "layout": "inline", "cylinders": "1", "valves": {"inl": "1", "exh": "1"}, "gear": "rocker", "head": "aluminium",
}  # fmt: skip
SIXTEEN: dict[str, Any] = {
    "layout": "v", "cylinders": "16", "valves": {"inl": ["f", "m", "r"], "exh": ["f", "r"]}, "gear": "finger_hydraulic",
    "head": "aluminium",
}  # fmt: skip
LIMITS = """\
format: witnessmark-limits-1
sheet: {name: TN-3, document: copied by hand, invented: yes, doubt: must be proven good}
limits:
  head_flatness:
    - {service: {high: "0.05"}, unit: mm, stations: worst, page: 40}
  stem_diameter:
    - {for: inl, service: {low: "5.940"}, new: {low: "5.965", high: "5.980"}, unit: mm, stations: worst, page: 41}
    - {for: exh, service: {low: "5.925"}, unit: mm, stations: worst, page: 41}
  stem_taper:
    - {service: {high: "0.010"}, unit: mm, page: 41}
  margin:
    - {service: {low: "0.8"}, unit: mm, page: 41}
  stem_height:
    - {service: {low: "43.75", high: "44.25"}, unit: mm, page: 42}
"""
INCH_LIMITS = """\
format: witnessmark-limits-1
sheet: {name: EG-1, document: copied by hand, invented: yes, doubt: even}
limits:
  head_flatness:
    - {service: {high: "0.004"}, unit: in, stations: worst, page: 7}
  stem_diameter:
    - {service: {low: "0.3405"}, unit: in, stations: worst, page: 9}
  stem_height:
    - {service: {low: "1.60", high: "1.65"}, unit: in, page: 9}
"""
GAUGES: dict[str, dict[str, Any]] = {
    "M-07": {"kind": "micrometer", "unit": "mm", "resolution": "0.001", "repeatability": {"s": "0.0012", "n": "20"},
             "calibration": {"U": "0.002", "k": "2", "date": "2026-03-02", "certificate": "HL 118"}},
    "D-01": {"kind": "depth_gauge", "unit": "mm", "resolution": "0.01", "calibration": {"U": "0.01", "k": "2"}},
    "C-03": {"kind": "caliper", "unit": "mm", "resolution": "0.01", "permissible_error": "0.03"},
    "L-04": {"kind": "leaves", "unit": "mm", "leaf_error": "0.001", "set": [f"0.0{n}" for n in range(2, 10)]},
    "M-1i": {"kind": "micrometer", "unit": "in", "resolution": "0.0001", "calibration": {"U": "0.0001", "k": "2"}},
}  # fmt: skip
STATIONS = [f"{height}/{way}" for height in ("top", "middle", "bottom") for way in ("along", "across")]


def reading(name: str, characteristic: str, place: str, raw: str, gauge: str | None, **more: Any) -> Event:
    """A reading whose raw text is a number of the gauge's unit, or two leaves."""
    words, unit = raw.split(), "in" if gauge == "M-1i" else "mm"
    step = f"0.{'0' * (len(words[0].partition('.')[2]) - 1)}1"
    number = {"kind": "number", "value": words[0], "unit": unit, "step": step}
    leaves = {"kind": "interval", "low": words[0], "high": words[-1], "unit": unit}
    body = {"characteristic": characteristic, "place": place, "round": "as found", "raw": raw, "gauge": gauge,
            "meaning": leaves if len(words) > 1 else number, "assumed": []} | more  # fmt: skip
    return Event(name, "reading_taken", body, at="2026-11-24T23:42:18-08:00", by="J. M.", device="tablet")


def opening(layout: dict[str, Any], limits: str = LIMITS, **header: Any) -> list[Event]:
    """The first events of a job."""
    job = {"id": "HL-0147", "engine": "Tern 2.0", "invented": True, "works": "Harbour Lane Engine Works",
           "complaint": "overheated"} | header  # fmt: skip
    events = [Event("o1", "job_opened", {"job": job, "engine": layout}, at="2026-11-24T08:00:00+01:00", by="J. M.")]
    if limits:
        digits = sha256(limits.encode()).hexdigest()
        events.append(Event("o2", "limits_entered", {"name": "TN-3", "text": limits, "hash": digits}, by="J. M."))
    return events + [Event(f"g-{n}", "gauge_entered", {"gauge": n, "fields": f}, by="J. M.") for n, f in GAUGES.items()]


def stems(valves: Sequence[str], base: float = 5.958, gauge: str = "M-07", places: int = 3) -> Iterator[Event]:
    """Six readings of each stem, the least of them at the middle across."""
    for valve in valves:
        for k, station in enumerate(STATIONS):
            size = base + 0.1**places * (0 if station == "middle/across" else 1 + k % 3)
            yield reading(f"st-{valve}-{k}", "stem_diameter", f"{valve}/{station}", f"{size:.{places}f}", gauge)


def stored(events: Sequence[Event]) -> tuple[Event, ...]:
    """Events as a store hands them out."""
    return tuple(event.stored(n, "2026-11-24T10:42:18+01:00") for n, event in enumerate(events, 1))


def tern() -> tuple[Event, ...]:
    """The Tern 2.0 half measured: every verdict, leaves, a correction, a take-back, an open question, gaps."""
    lines = {"inlet-edge": "0.03 0.04", "exhaust-edge": "0.04 0.05", "front-end": "0.02 0.03", "rear-end": "0.02 0.03",
             "diagonal-1": "0.06 0.07"}  # fmt: skip
    question = {"kind": "slip", "text": "Exh 2F came as 0.2351: 25 times under its neighbours.", "answers": [
        {"label": "it was inch", "meaning": {"kind": "number", "value": "0.2351", "unit": "in", "step": "0.0001"},
         "do": "take"}, {"label": "measure again", "meaning": None, "do": "measure again"}]}  # fmt: skip
    heights = [("inl-1f", "44.02"), ("inl-1r", "44.24"), ("exh-3f", "44.30")]
    return stored([
        *opening(TERN),
        *(reading(f"f-{line}", "head_flatness", f"gasket-face/{line}", raw, "L-04") for line, raw in lines.items()),
        *stems(["inl-1f"]), *stems(["inl-1r"], 5.931), *stems(["inl-2f"], 5.941), *list(stems(["exh-1f"], 5.95))[:4],
        *(reading(f"h-{valve}", "stem_height", valve, raw, "D-01") for valve, raw in heights),
        reading("m-1", "margin", "exh-1f", "1.12", "C-03", temperature={"part": "21", "gauge": None}),
        reading("m-2", "margin", "exh-1r", "1.99", "C-03"),
        reading("m-3", "margin", "exh-1r", "1.09", "C-03", supersedes="m-2", reason="misread"),
        reading("m-4", "margin", "exh-2f", "1.31", None),
        reading("m-5", "margin", "exh-2r", "7.77", "C-03"),
        Event("tb", "taken_back", {"event": "m-5"}, at="2026-11-24T23:50:00-08:00", by="J. M."),
        reading("q-1", "stem_diameter", "exh-2f/top/along", "0.2351", "M-07", question=question, meaning=None),
        Event("w-1", "waived", {"characteristic": "margin", "place": "exh-4r", "round": "as found", "scope": "place",
                                "reason": "cannot be measured"}, by="J. M."),
        Event("n-1", "noted", {"about": "m-1", "text": "burr taken off first"}, at="2026-11-25T00:10:00-08:00",
              by="A. K."),
    ])  # fmt: skip


def egret() -> tuple[Event, ...]:
    """The Egret 5.0, in inches: two heads, one stem out."""
    lines = [("left/gasket-face/diagonal-1", "0.08 0.09"), ("right/gasket-face/diagonal-2", "0.03 0.04")]
    return stored([
        *opening(EGRET, INCH_LIMITS, engine="Egret 5.0", id="HL-0150"),
        *(reading(f"f-{n}", "head_flatness", place, raw, "L-04") for n, (place, raw) in enumerate(lines)),
        *stems(["inl-1"], 0.3412, "M-1i", 4), *stems(["exh-8"], 0.3391, "M-1i", 4),
    ])  # fmt: skip


def many() -> tuple[Event, ...]:
    """A V16 with five valves each: 80 valves, over 600 results, every one of them out or unfinished."""
    valves = [f"{side}-{n}{at}" for n in range(1, 17) for side, row in (("inl", "fmr"), ("exh", "fr")) for at in row]
    out = [reading(f"{name}-{valve}", name, valve, raw, gauge) for valve in valves
           for name, raw, gauge in (("margin", "0.51", "C-03"), ("stem_height", "45.10", "D-01"))]  # fmt: skip
    each = LIMITS.replace("stations: worst, page: 41", "stations: each, page: 41")
    return stored([*opening(SIXTEEN, each), *stems(valves, 5.901), *out])


JPEG_TEXTS = ("burnt seat", "after the cut")


def jpegs() -> dict[str, bytes]:
    """Two small photos by their hashes, grey and dark."""
    from PIL import Image

    found = {}
    for shade in (180, 60):
        out = BytesIO()
        Image.new("RGB", (64, 48), (shade, shade, shade)).save(out, "JPEG")
        found[sha256(out.getvalue()).hexdigest()] = out.getvalue()
    return found


def worked() -> tuple[Event, ...]:
    """The Tern 2.0 after the work: decisions, answers of the customer, photos, zero checks, a second round."""

    def event(name: str, kind: str, /, **body: Any) -> Event:
        return Event(name, kind, body, at="2026-11-25T09:10:00+01:00", by="A. K.")

    def decided(name: str, characteristic: str, place: str, decision: str, why: str, **more: Any) -> Event:
        return event(name, "decided", characteristic=characteristic, place=place, round="as found", decision=decision,
                     why=why, **more)  # fmt: skip

    sizes = {"type": "image/jpeg", "width": 64, "height": 48}
    shots = [
        event(f"p-{n}", "photo_added", photo=photo, bytes=len(jpeg), note=note, **sizes,
              about={"characteristic": "stem_height", "place": "exh-3f", "round": "as found"})
        for n, ((photo, jpeg), note) in enumerate(zip(jpegs().items(), JPEG_TEXTS, strict=True))
    ]  # fmt: skip
    after = [*stems(["inl-1r"], 5.958), reading("h-new", "stem_height", "exh-3f", "44.00", "D-01")]
    later = [Event(f"{one.id}-b", one.kind, {**one.body, "round": "back from machining"}, at=one.at, by=one.by)
             for one in after]  # fmt: skip
    return stored([
        *tern(),
        event("z-1", "zero_checked", gauge="M-07", found="0.000", unit="mm", against="closed", when="before",
              allowed="0.002", passed=True),
        event("z-2", "zero_checked", gauge="C-03", found="0.05", unit="mm", against="closed", when="after",
              allowed="0.02", passed=False),
        event("c-1", "gauges_compared", first="M-07", second="C-03", on="pin 6", first_read="6.000",
              second_read="6.02", unit="mm"),
        decided("d-0", "stem_diameter", "inl-1r", "look again", "read by two"),
        decided("d-1", "stem_diameter", "inl-1r", "replaced", "worn under the limit", operation="valve_replace",
                based_on="d-0"),
        decided("d-2", "stem_height", "exh-3f", "machined", "sunk", operation="seat_cut"),
        decided("d-3", "head_flatness", "gasket-face", "machined", "hollow", operation="skim"),
        event("k-1", "customer_answered", about=["d-1", "d-2"], answer="yes", ceiling="180.00", currency="EUR",
              said_by="R. P.", note="by phone"),
        event("k-2", "customer_answered", about=["d-3"], answer="no", said_by="R. P."),
        event("r-1", "route_chosen", extent="quick"),
        *shots,
        *later,
    ])  # fmt: skip
