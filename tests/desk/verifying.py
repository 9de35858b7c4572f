"""An engine that is put together again and tried: readings of the round `as assembled`, typed as at the bench."""

from witnessmark.desk.bench import Bench
from witnessmark.desk.enter import enter
from witnessmark.engine.walk import locations

TOGETHER = "as assembled"
GOOD = {"cranking_compression": "1280 kPa", "cranking_first": "800 kPa", "cranking_wet": "1320 kPa",
        "leak_down_supply": "80 psi", "leak_down_cylinder": "74 psi"}  # fmt: skip


def read(desk, characteristic, place, line, round_=TOGETHER):
    """One line typed at a station; it must be kept."""
    n = 5000 + len(desk.log)
    bench = Bench(f"v{n}", characteristic, place, round=round_, by="J. M.", device="bench-1", device_seq=n,
                  at="2026-12-01T09:00:00Z")  # fmt: skip
    outcome = enter(desk.now, bench, line)
    assert outcome.status == "kept", (characteristic, place, line, outcome.status, outcome.detail)
    desk.log += outcome.events


def read_together(desk, lines=None, oil=("150 kPa", "350 kPa"), **one):
    """Every test of an assembled engine in good order; `one` are other lines, by characteristic, at the first cylinder."""
    first, *_ = places = locations(desk.now.layout, "chamber")
    for name, line in {**GOOD, **(lines or {})}.items():
        for place in places:
            read(desk, name, place, one.get(name, line) if place == first else line)
    for station, line in zip(("hot-idle", "stated-speed"), oil, strict=True):
        read(desk, "oil_pressure", f"engine/{station}", line)
