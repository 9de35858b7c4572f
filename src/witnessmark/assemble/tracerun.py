"""What makes points of a wrench one run over one bolt, and what makes them none.

A hand that goes back with a ratchet, and a wrench that is let go at the end, leave points that say nothing about the
bolt; they are left out. Thresholds: judgement.
"""

import numpy as np
from numpy.typing import NDArray

from witnessmark.assemble.trace import Floats
from witnessmark.text.fault import Fault

LEAST = 20  # points; fewer show no slope
JUMP = 10.0  # degrees between two points, beyond which nobody knows what lies between
ON = 0.1  # of the largest torque: above it the wrench works
MOST_RUNS = 20  # looked for; a file that goes back and forth more often is none of a wrench
LET_GO = 0.6  # of the torque before: below it, without a step forward, the hand goes back


def doubted(who: str, line: NDArray[np.int64], angle: Floats, torque: Floats, name: str, whole: bool = True
            ) -> list[Fault]:  # fmt: skip
    """Faults of the points of one bolt; with `whole` those of a file, else those of one run in it."""

    def fault(say: str, at: int) -> list[Fault]:
        return [Fault("value", who + say, name, int(line[at]))]

    if len(angle) < LEAST:
        return fault(f"{len(angle)} points; a trace needs {LEAST}; record finer steps", 0)
    if whole and not torque.any():
        return fault("the torque is 0 throughout; look at the cable and at which column was saved", 0)
    if whole and torque.max() <= 0:
        return fault("the torque is never above 0: turn its sign, or was the bolt loosened?", 0)
    if whole and (at := _reversed(angle, torque)) is not None:
        return fault("the angle falls while the torque rises: turn its sign, or was the bolt loosened?", at)
    if whole:
        return []
    on = torque > ON * torque.max()
    jumps = np.flatnonzero((np.diff(angle) > JUMP) & (on[1:] | on[:-1]))
    return [one for at in jumps for one in fault(
        f"the angle jumps by {angle[at + 1] - angle[at]:.4g}° while torque is on; save every point, or measure again",
        int(at) + 1)]  # fmt: skip


def _reversed(angle: Floats, torque: Floats) -> int | None:
    """Where the angle begins to fall while the torque rises, None where it does not."""
    top = int(np.argmax(torque))
    rising = torque[: top + 1]
    if top < 2 or angle[top] > angle[0] - 2 or float(np.cov(angle[: top + 1], rising)[0, 1]) >= 0:
        return None
    if np.max(np.maximum.accumulate(angle[: top + 1])) > angle[0] + JUMP:
        return None  # it went forward first: two runs, or a hand that went back
    return int(np.argmax(rising > ON * torque[top]))


def runs_of(angle: Floats, torque: Floats) -> list[slice]:
    """The runs in a file: each goes forward; a way back on which no torque is put on afterwards is none."""
    found: list[slice] = []
    start = 0
    for _ in range(MOST_RUNS):
        if start >= len(angle):
            break
        stop, after = _forward(angle, start)
        part = slice(start, stop)
        if not found or (stop - start >= LEAST and torque[part].max() > ON * torque.max()):
            found.append(part)
        start = after
    return found


def _forward(angle: Floats, start: int) -> tuple[int, int]:
    """Where a run ends, and where the next one begins: behind it the angle fell by more than half of its way."""
    rest = angle[start:]
    top = np.maximum.accumulate(rest)
    back = np.flatnonzero(top - rest > np.maximum(JUMP, (top - rest[0]) / 2))
    if not len(back):
        return len(angle), len(angle)
    at = int(back[0])
    stop = start + int(np.argmax(rest[:at])) + 1
    ahead = np.flatnonzero(np.diff(rest[at:]) > 0)  # the way back ends where it goes forward again
    lowest = at + int(ahead[0]) if len(ahead) else len(rest)
    return stop, start + max(lowest, 1)


def kept_points(angle: Floats, torque: Floats) -> NDArray[np.bool_]:
    """The points of a run that say something about the bolt: not those of a hand going back or letting go."""
    keep = np.ones(len(angle), bool)
    keep[int(np.argmax(angle)) + 1 :] = False
    before = np.concatenate(([-np.inf], np.maximum.accumulate(angle)[:-1]))
    most = np.maximum.accumulate(torque)
    keep &= ~((angle <= before) & (torque < LET_GO * most) & (most > 2 * ON * torque.max()))
    return keep
