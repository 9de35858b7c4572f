"""The fields of a gauge as they were typed or sent, held to the shape that a job file holds them to."""

import re
from collections.abc import Mapping
from decimal import Decimal
from math import isfinite
from typing import Any

from witnessmark.desk.bench import Refused
from witnessmark.judge.gauges import GaugeFault, model
from witnessmark.metrology.gauge import defects
from witnessmark.record.job import GaugeRevision
from witnessmark.text.document import Document
from witnessmark.text.faults import from_validation

NUMBERS = {"resolution", "size", "U", "k", "s", "n", "permissible_error", "leaf_error", "expansion", "set"}
EMPTY: tuple[Any, ...] = (None, "", [], {})


def checked_fields(gauge: str, fields: Mapping[str, Any], reads: str = "") -> dict[str, Any]:
    """The fields as texts, empty ones left out, a decimal comma made a point. Raises Refused, telling all faults.

    `reads` is what its kind reads, where the catalogue knows it: number, leaves, deviation, or size for a master.
    """
    from pydantic import ValidationError

    from witnessmark.record.jobschema import GaugeSection, allowed

    plain: dict[str, Any] = _texts("", fields)
    try:
        GaugeSection.model_validate(plain)
    except ValidationError as bad:
        errors = [dict(error) for error in bad.errors(include_url=False)]
        faults = from_validation(errors, Document("", plain, {}, {}), lambda path: allowed(("gauges", "", *path)))
        told = "; ".join(f"{fault.path}: {fault.message}" for fault in faults)
        raise Refused(f"gauge {gauge}: {told}") from None
    _hold_together(gauge, plain, reads)
    return plain


def _hold_together(gauge: str, fields: Mapping[str, Any], reads: str) -> None:
    leaves, master = fields["kind"] == "leaves", reads == "size"
    if master and not fields.get("size"):
        raise Refused(f"gauge {gauge}: no size; give the one engraved on it, such as 6.000")
    if fields.get("size") and reads and not master:
        raise Refused(f"gauge {gauge}: it reads and holds no size; take the size out, or make its kind a master")
    if not leaves and not master and not fields.get("resolution"):
        raise Refused(f"gauge {gauge}: no resolution; give the smallest step that it shows, such as 0.001")
    if leaves and not fields.get("set"):
        raise Refused(f"gauge {gauge}: no set; list the thicknesses of its leaves, such as 0.03 0.04 0.05")
    try:
        known = model(GaugeRevision(gauge, 1, fields, ""))
    except GaugeFault as fault:
        raise Refused(str(fault)) from None
    found = [text for text in defects(known) if not ((leaves or master) and "resolution" in text)]
    if found:
        raise Refused("; ".join(found), tuple(found))


def _texts(key: str, value: Any) -> Any:
    """Every number as its own text: a job file is all text, and an export must read as one."""
    if isinstance(value, Mapping):
        inner = {str(name): _texts(str(name), one) for name, one in value.items()}
        return {name: one for name, one in inner.items() if one not in EMPTY}
    if isinstance(value, list | tuple):
        return [_texts(key, one) for one in value]
    if isinstance(value, float) and isfinite(value):
        return format(Decimal(repr(value)), "f")
    if isinstance(value, int | float) and not isinstance(value, bool):
        return str(value)
    if isinstance(value, str) and key in NUMBERS and re.fullmatch(r"\s*\d*,\d+\s*", value):
        return value.strip().replace(",", ".")
    return value.strip() if isinstance(value, str) else value
