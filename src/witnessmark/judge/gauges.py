"""Gauges of the record as models with their doubt in inside units; the catalogue's usual gauge where none was named."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Any

from witnessmark.catalogue import entry
from witnessmark.metrology.gauge import Calibration, Gauge, Repeatability
from witnessmark.quantity.unit import UnknownUnit, unit
from witnessmark.record.job import GaugeRevision

LONGEST = 80  # characters of a number


class GaugeFault(ValueError):
    """A gauge whose entries cannot be read as numbers; the message names gauge, entry and what to write."""


def model(revision: GaugeRevision) -> Gauge:
    """The model of one revision of a gauge. Raises GaugeFault."""
    fields = revision.fields
    name = revision.gauge
    scale = factor(name, str(fields.get("unit") or "mm"))
    return Gauge(
        id=name,
        kind=str(fields.get("kind", "")),
        unit=str(fields.get("unit") or "mm"),
        resolution=_length(name, fields, "resolution", scale) or 0.0,
        calibration=_calibration(name, fields.get("calibration"), scale),
        permissible_error=_length(name, fields, "permissible_error", scale),
        repeatability=_repeatability(name, fields.get("repeatability"), scale),
        leaf_error=_length(name, fields, "leaf_error", scale) or 0.0,
        leaves=tuple(_number(name, "set", leaf) * scale for leaf in _leaves(name, fields.get("set") or ())),
        revision=revision.revision,
    )


def assumed(kind: entry.GaugeKind, size: float) -> Gauge:
    """The usual gauge of its kind with its usual doubt, marked as assumed; `size` for a doubt stated as a share."""
    U = kind.U + kind.relative * abs(size)
    return Gauge(
        id=f"usual {kind.term}",
        kind=kind.kind,
        unit=kind.unit,
        resolution=kind.resolution,
        calibration=Calibration(U, kind.k) if U else None,
        repeatability=Repeatability(kind.repeatability) if kind.repeatability else None,
        leaf_error=kind.leaf_error,
        leaves=kind.leaves,
        assumed=True,
    )


@lru_cache(maxsize=256)
def factor(gauge: str, name: str) -> float:
    """Size of a gauge's unit in the inside unit of what it measures. Raises GaugeFault for no such unit."""
    try:
        return float(unit(name).factor)
    except UnknownUnit as unknown:
        raise GaugeFault(f"gauge {gauge}: unit: {unknown}") from None


def _calibration(gauge: str, stated: Any, scale: float) -> Calibration | None:
    if not isinstance(stated, Mapping) or stated.get("U") in (None, ""):
        return None
    return Calibration(
        _number(gauge, "calibration U", stated["U"]) * scale,
        _number(gauge, "calibration k", stated.get("k") or "2"),
        str(stated.get("date") or ""),
        str(stated.get("certificate") or ""),
    )


def _repeatability(gauge: str, stated: Any, scale: float) -> Repeatability | None:
    if not isinstance(stated, Mapping) or stated.get("s") in (None, ""):
        return None
    n = stated.get("n")
    count = None if n in (None, "") else int(_number(gauge, "repeatability n", n))
    return Repeatability(_number(gauge, "repeatability s", stated["s"]) * scale, count)


def _length(gauge: str, fields: Mapping[str, Any], key: str, scale: float) -> float | None:
    text = fields.get(key)
    return None if text in (None, "") else _number(gauge, key, text) * scale


def _leaves(gauge: str, stated: Any) -> Sequence[Any]:
    if not isinstance(stated, list | tuple):
        raise GaugeFault(f"gauge {gauge}: set is '{stated}'; list the thicknesses of its leaves, such as [0.03, 0.04]")
    return stated


def _number(gauge: str, key: str, text: Any) -> float:
    written = str(text)
    try:
        if len(written) > LONGEST:
            raise ValueError
        return float(Fraction(written.strip().replace(",", ".")))
    except (ValueError, ArithmeticError):
        raise GaugeFault(f"gauge {gauge}: {key} is '{written[:LONGEST]}'; write a number such as 0.001") from None
