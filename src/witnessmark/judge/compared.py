"""Two gauges tried on one part: whether what they read agrees within what is known of both (metrology.compare)."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, nan

from witnessmark.judge.gauges import GaugeFault, factor, model
from witnessmark.judge.taken import figure
from witnessmark.judge.zero import expanded
from witnessmark.metrology.compare import agrees, compare
from witnessmark.metrology.gauge import STEP, Gauge
from witnessmark.record.job import Comparison, Job


@dataclass(frozen=True, slots=True)
class Compared:
    """One comparison with its E_n; values and expanded uncertainties (k = 2) in the unit inside.

    `stated` is False where nothing but the step is known of one of the two: then agreement says little. `problem` says
    why there is no score; `score` is then None, and the values are not numbers.
    """

    comparison: Comparison
    first: float
    second: float
    U: tuple[float, float]
    score: float | None
    stated: bool
    problem: str = ""

    @property
    def agree(self) -> bool | None:
        """Whether both can be right; None without a score."""
        return None if self.score is None else agrees(self.score)


def comparisons(job: Job) -> tuple[Compared, ...]:
    """Every comparison of a job, in the order of its log."""
    return tuple(_compared(job, one) for one in job.comparisons)


def _compared(job: Job, one: Comparison) -> Compared:
    try:
        first, second = (figure(text) * factor(one.first, one.unit) for text in (one.first_read, one.second_read))
        gauges = [_gauge_then(job, name, one.seq) for name in (one.first, one.second)]
    except (GaugeFault, ArithmeticError) as fault:
        return Compared(one, nan, nan, (nan, nan), None, stated=False, problem=str(fault))
    U = (_one_reading(gauges[0]), _one_reading(gauges[1]))
    return Compared(one, first, second, U, float(compare(first, second, *U)), stated=all(_stated(gauges)))


def _one_reading(gauge: Gauge) -> float:
    """Expanded uncertainty (k = 2) of one reading: calibration, scatter and step together (JCGM 100:2008, 5.1)."""
    return hypot(expanded(gauge), 2 * gauge.s, 2 * gauge.resolution / STEP)


def _stated(gauges: list[Gauge]) -> Iterator[bool]:
    return (gauge.calibration is not None or gauge.permissible_error is not None for gauge in gauges)


def _gauge_then(job: Job, name: str, seq: int) -> Gauge:
    """What was known of a gauge at a place of the log; its first revision where it was entered later."""
    known = [one for one in job.gauges.get(name, ()) if one.state != "taken back"]
    before = [one for one in known if one.seq < seq]
    if not known:
        raise GaugeFault(f"gauge {name} is not in the register of this job; enter what is known of it")
    return model(before[-1] if before else known[0])
