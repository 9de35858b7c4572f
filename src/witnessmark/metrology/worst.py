"""The worst of several stations: one verdict over m values that each have their own doubt.

    within   every station has p ≥ 0.95
    out      some station lies beyond one limit with chance at least 0.95^(1/m)
    p        the least p of the stations, told together with m

Never the product of the p: with six stations exactly at the limit it condemns 92 parts in 100, and "some station is
out" by the rule for one value condemns 26; this rule condemns 5. The exponent is that of m independent stations (Šidák
1967); stations that share errors are condemned less often still.

Shapes  Stations (n,) with `group` (n,) naming the mark each belongs to, 0 ... groups − 1.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from witnessmark.metrology.conform import CONFIDENCE, OUT, TOO_CLOSE, WITHIN, Codes, beyond, chances, verdicts
from witnessmark.metrology.doubt import Doubt
from witnessmark.metrology.source import Flags, Floats, Indices


@dataclass(frozen=True, slots=True)
class Worst:
    """One row per group: verdict code, p, how many stations count, the station that decides, and whether it is open.

    An open mark is unfinished: more readings may still change it. An `out` is never open, since no further reading
    can bring that station back.
    """

    verdict: Codes
    p_within: Floats
    stations: Indices
    decides: Indices
    open: Flags


def out_confidence(stations: ArrayLike) -> Floats:
    """Chance that one of `stations` must reach to condemn them all."""
    return np.asarray(CONFIDENCE ** (1 / np.asarray(stations, float)), float)


def worst(
    known: Doubt,
    low: ArrayLike,
    high: ArrayLike,
    group: ArrayLike,
    groups: int,
    *,
    planned: ArrayLike = 0,
    complete: ArrayLike = True,
) -> Worst:
    """Judge groups of stations. `planned` (groups,) is how many stations each shall have once complete.

    The stations that count are the greater of planned and measured, so a mark in progress is not condemned by a rule
    that a later station would have softened. A group with no station yet is open and has p nan.
    """
    return worst_of_chances(*chances(known, low, high), group, groups, planned=planned, complete=complete)


def worst_of_chances(
    below: ArrayLike,
    above: ArrayLike,
    group: ArrayLike,
    groups: int,
    *,
    planned: ArrayLike = 0,
    complete: ArrayLike = True,
) -> Worst:
    """The same from the chances of each station beyond each limit, as leaves give them; nan where one is not known.

    A station of which the chance is not known keeps its group from `within`, and not from `out`.
    """
    below, above, at = np.asarray(below, float), np.asarray(above, float), np.asarray(group, np.int64)
    measured = np.bincount(at, minlength=groups)
    stations = np.maximum(measured, np.broadcast_to(np.asarray(planned), groups))
    p = np.clip(1 - below - above, 0.0, 1.0)
    p_within, furthest = _least(p, at, groups), np.zeros(groups)
    np.fmax.at(furthest, at, beyond(below, above))
    verdict = verdicts(p_within, furthest, out_confidence(np.maximum(stations, 1)))
    open_yet = ~np.broadcast_to(np.asarray(complete, bool), groups) | (measured == 0)
    return Worst(verdict, p_within, stations, _first_worst(at, p, p_within), open_yet & (verdict != OUT))


def _least(p: Floats, group: Indices, groups: int) -> Floats:
    """Least known p of each group; nan where there is none, or where one is not known and the others are all within."""
    least = np.full(groups, np.inf)
    np.fmin.at(least, group, p)
    doubtful = np.zeros(groups, bool)
    doubtful[group[np.isnan(p)]] = True
    return np.where(np.isinf(least) | (doubtful & (least >= CONFIDENCE)), np.nan, least)


def _first_worst(group: Indices, p: Floats, p_within: Floats) -> Indices:
    """Station that decides each group, with the least p or with one that is not known; −1 where there is none."""
    decides = np.full(len(p_within), -1)
    told = p_within[group]
    hits = np.flatnonzero((p == told) | (np.isnan(p) & np.isnan(told)))[::-1]
    decides[group[hits]] = hits
    return decides


def worst_of_codes(codes: ArrayLike) -> int:
    """One word for verdicts that stand side by side, each judged by itself: out, else too close, else within."""
    held = set(np.asarray(codes).tolist())
    return next((code for code in (OUT, TOO_CLOSE) if code in held), WITHIN)
