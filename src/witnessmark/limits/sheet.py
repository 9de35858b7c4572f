"""The limit sheet under one roof: read from a text, held as a value, asked for the limit of a place."""

from witnessmark.limits.limit import BEARERS, TYPED_AT_BENCH, Allowed, Limit, Selector, Sheet, limit_for, limits_for
from witnessmark.limits.read import read_sheet

__all__ = [
    "BEARERS",
    "TYPED_AT_BENCH",
    "Allowed",
    "Limit",
    "Selector",
    "Sheet",
    "limit_for",
    "limits_for",
    "read_sheet",
]
