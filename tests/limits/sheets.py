"""Limit sheets for tests, written as a person would; all of them invented unless a test names its source."""

import pytest

from catalogue.shelf import shipped
from witnessmark.limits.sheet import Sheet, read_sheet
from witnessmark.text.fault import Faulty

HEAD = "format: witnessmark-limits-1\nsheet: {name: TN-3, document: invented, doubt: must be proven good}\n"

TERN = (
    HEAD
    + """
limits:
  stem_diameter:
    - {for: inl, service: {low: 5.940}, new: {low: 5.965, high: 5.980}, unit: mm, stations: worst, page: 41}
    - {for: exh, service: {low: 5.930}, new: {low: 5.955, high: 5.970}, unit: mm, stations: worst, page: 41}
  seat_width:
    - {for: inl, service: {low: 1.0, high: 1.6}, unit: mm}
    - {for: exh, service: {low: 1.4, high: 2.0}, unit: mm}
    - {for: exh, position: r, service: {low: 1.5, high: 2.0}, unit: mm, document: bulletin 4}
    - {place: exh-3f, service: {low: 1.7, high: 2.0}, unit: mm, doubt: even}
    - {place: exh-3f/1, service: {low: 1.8, high: 2.0}, unit: mm}
  installed_height:
    - {service: {low: 37.6, high: 38.2}, new: {low: 37.7, high: 38.0}, unit: mm, page: 44}
    - {service: {high: 0.5}, unit: mm, stations: spread_of_places, page: 44}
  tall_height: [{given: 38.00, unit: mm}]
  tall_load: [{service: {low: 180}, new: {low: 195, high: 225}, other: {reassembly: {low: 188}}, unit: N}]
operations:
  skim: {allowed: up to, most: 0.20, unit: mm, page: 40}
  tip_grind: {allowed: no, page: 42}
  gasket: {allowed: yes}
"""
)


def sheet(limits: str = "", operations: str = "{}") -> Sheet:
    """A sheet with one entry for each line of `limits`."""
    return read_sheet(text(limits, operations), "limits.yaml", shipped())


def text(limits: str = "", operations: str = "{}") -> str:
    """The text of such a sheet."""
    body = "".join(f"  {line.strip()}\n" for line in limits.strip().splitlines())
    return f"{HEAD}limits:\n{body or '  {}'}\noperations: {operations}\n"


def told(limits: str = "", operations: str = "{}") -> str:
    """The faults of such a sheet, one in a line; the test stops where there is none."""
    return told_of(text(limits, operations))


def told_of(whole: str) -> str:
    """The faults of a whole sheet."""
    with pytest.raises(Faulty) as error:
        read_sheet(whole, "limits.yaml", shipped())
    return "\n".join(map(str, error.value.faults))


def warned(limits: str) -> str:
    """The warnings of a sheet, one in a line."""
    return "\n".join(map(str, sheet(limits).warnings))
