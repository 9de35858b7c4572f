"""When the calibration of a gauge is due, in words; what is past due is said so, in words and nowhere by colour."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from witnessmark.judge.trust import due
from witnessmark.record.job import Job, gauge_now

PAST = "past due"
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def due_words(fields: Mapping[str, Any], today: str) -> str:
    """`due in 12 days, 7 Dec 2026`, `past due since 2 Nov 2026`; "" where no date is stated.

    `today` is year-month-day, or a time that begins so. On the day itself a calibration still holds.
    """
    stated = due(fields)
    if not stated:
        return ""
    then, now = day_of(stated), day_of(today)
    if then is None or now is None:
        return f"due '{stated}', which is no date" if then is None else f"due {day_words(then)}"
    left = (then - now).days
    if left < 0:
        return f"{PAST} since {day_words(then)}"
    days = "today" if left == 0 else "tomorrow" if left == 1 else f"in {left} days"
    return f"due {days}, {day_words(then)}"


def past_due(fields: Mapping[str, Any], today: str) -> bool:
    """Whether the calibration was due before today."""
    then, now = day_of(due(fields)), day_of(today)
    return then is not None and now is not None and then < now


def late_gauges(job: Job, today: str) -> tuple[str, ...]:
    """Gauges of the register that are past due, in its order."""
    held = ((name, gauge_now(job, name)) for name in job.gauges)
    return tuple(name for name, revision in held if revision and past_due(revision.fields, today))


def gauges_words(job: Job, today: str) -> str:
    """For a title block: `4 in the register`, `M-07 past due`, `M-07 and 2 more past due`."""
    late = late_gauges(job, today)
    if not late:
        return f"{len(job.gauges)} in the register" if job.gauges else "usual ones assumed"
    more = f" and {len(late) - 1} more" if len(late) > 1 else ""
    return f"{late[0][:20]}{more} {PAST}"


def day_of(text: str) -> date | None:
    """The day that a text begins with, or None."""
    try:
        return date.fromisoformat(text[:10])
    except ValueError:
        return None


def day_words(day: date) -> str:
    """`24 Nov 2026`, in words that no locale changes."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"
