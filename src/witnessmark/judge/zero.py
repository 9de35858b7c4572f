"""Zero checks: what error of zero is let pass, and which readings a check that was not passed throws doubt on.

Source  common practice, no source: a zero that has moved may have moved at any time since it was last known good.
"""

from collections.abc import Iterator

from witnessmark.judge.gauges import model
from witnessmark.metrology.gauge import Gauge
from witnessmark.metrology.source import UNIFORM
from witnessmark.record.job import GaugeRevision, Job, Reading, ZeroCheck


def allowed_zero(revision: GaugeRevision) -> float:
    """The error of zero that is let pass where nobody said: the step, or U for k = 2 if that is more [inside unit].

    Raises GaugeFault for a gauge that cannot be read as numbers.
    """
    gauge = model(revision)
    return max(gauge.resolution, expanded(gauge))


def expanded(gauge: Gauge) -> float:
    """Expanded uncertainty (k = 2) of what a gauge shares over its readings; 0 where nothing is stated [inside unit].

    A calibration beats a permissible error, which is taken as equally likely within its bounds (JCGM 100:2008, 4.3.7).
    """
    if gauge.calibration is not None:
        return 2 * gauge.calibration.U / gauge.calibration.k
    return 2 * gauge.permissible_error / UNIFORM if gauge.permissible_error is not None else 0.0


def suspects(job: Job) -> frozenset[str]:
    """Ids of the readings that a check which was not passed throws doubt on.

    Those of the same gauge after its last good check (or from the beginning) and up to the bad one, in the order of the
    log, and those made under a setting for which that gauge was the master in this span. Nothing else.
    """
    if all(check.passed for check in job.checks):
        return frozenset()
    return frozenset(reading.id for check in job.checks if not check.passed for reading in touched(job, check))


def touched(job: Job, bad: ZeroCheck) -> Iterator[Reading]:
    """The readings that one check which was not passed throws doubt on, whatever became of them since."""
    good = [check.seq for check in job.checks if check.passed and check.gauge == bad.gauge and check.seq < bad.seq]
    since = max(good, default=0)
    set_with = {name for name, made in job.settings.items() if made.with_ == bad.gauge and since < made.seq < bad.seq}
    for reading in job.readings:
        if (reading.gauge == bad.gauge and since < reading.seq < bad.seq) or reading.setting in set_with:
            yield reading
