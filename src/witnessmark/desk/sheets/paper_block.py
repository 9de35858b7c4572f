"""What stands on every paper of a job: the facts of its title block, and the line under its title."""

from witnessmark.desk.sheets import report_facts as facts
from witnessmark.desk.sheets.phrase import count_word, plural
from witnessmark.desk.state import State
from witnessmark.engine.layout import Layout
from witnessmark.record.job import Job

DIGITS_SHOWN = 8  # digits of a checksum in the title block; the whole of it stands on the sheet of the gauges
LEAD_LONGEST = 100
Facts = tuple[tuple[str, str], ...]


def report_block(state: State, checksum: str) -> Facts:
    """Title block of a report, without the number of the sheet: whose limits, who bears the doubt, which record."""
    return (*_job(state), ("each value", _bearer(state)), ("checksum", grouped(checksum[:DIGITS_SHOWN])))


def bench_block(state: State) -> Facts:
    """Title block of a sheet that is taken to the bench: which round, which route."""
    read, of = state.progress
    route = f"{state.job.extent}, {state.order}"
    return (*_job(state), ("round · route", f"{state.round} · {route}"), ("read when printed", f"{read} of {of}"))


def _job(state: State) -> Facts:
    header, sheet = state.job.header, state.sheet
    none = "cannot be read" if state.job.limits else "none entered"
    limits = f"{sheet.name} · {grouped(sheet.hash[:DIGITS_SHOWN])}" if sheet else none
    return (
        ("works", str(header.get("works") or "not stated")),
        ("job · engine", " · ".join(filter(None, (state.job.id, str(header.get("engine") or ""))))),
        ("limits from", limits),
    )


def _bearer(state: State) -> str:
    """Who bears the doubt; where entries of the sheet differ, it says so."""
    if state.sheet is None:
        return "not judged"
    found = dict.fromkeys(limit.bearer for limit in state.sheet.limits) or {state.sheet.bearer: None}
    words = {"even": "taken as read"}
    return " or ".join(words.get(one, one) for one in found)


def grouped(digits: str) -> str:
    """Hexadecimal digits by four, in capitals: `7C3E 91A0`, never parted at the end of a line."""
    return "\u00a0".join(digits[at : at + 4] for at in range(0, len(digits), 4)).upper()


def eights(digits: str) -> str:
    """All digits of a checksum in groups of eight."""
    return " ".join(digits[at : at + 8] for at in range(0, len(digits), 8))


def lead(state: State, date: str) -> str:
    """Engine, complaint, round, day and temperature in one line; `date` is an ISO date or ""."""
    header, layout = state.job.header, state.layout
    engine = [str(header.get("engine") or ""), *([engine_words(layout)] if layout else [])]
    day = facts.moment_of(date)
    temperature = facts.part_temperature(state.job, state.round)
    when = ", ".join(filter(None, (state.round, facts.day_words(day) if day else "", temperature)))
    complaint = shorten(str(header.get("complaint") or ""))
    said = [shorten(", ".join(filter(None, engine))), complaint, when, invented(state.job)]
    return " · ".join(part for part in said if part)


def shorten(text: str) -> str:
    """A text no longer than the line under the title can carry; the whole of it stands on sheet 2."""
    return text if len(text) <= LEAD_LONGEST else f"{text[:LEAD_LONGEST].rstrip()} …"


def invented(job: Job) -> str:
    """`invented job`, or "" for one that says nothing of the kind."""
    return "invented job" if job.header.get("invented") in (True, "true", "yes") else ""


def engine_words(layout: Layout) -> str:
    """`inline four, 16 valves`, `V8, 16 valves`, `flat four, 8 valves`, `single, 2 valves`."""
    valves = plural(layout.cylinders * layout.valves_each, "valve")
    if layout.cylinders == 1:
        return f"single, {valves}"
    if layout.layout == "v":
        return f"V{layout.cylinders}, {valves}"
    kind = "flat" if layout.layout == "opposed" else "inline"
    return f"{kind} {count_word(layout.cylinders)}, {valves}"
