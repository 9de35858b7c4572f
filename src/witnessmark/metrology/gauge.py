"""What is known of a gauge: its step, its calibration, how it repeats. The model only; revisions are kept elsewhere.

Calibration and repeatability are separate fields, because repeats shrink one and not the other. A bare U with no
repeatability therefore counts as shared by every reading of the gauge, and repeating cannot reduce it.

Units   mm (N for a force gauge); `expansion` per kelvin.
"""

from dataclasses import dataclass
from math import inf, isfinite, sqrt

from witnessmark.metrology.source import Source, bounded

STEP = sqrt(12.0)  # width over standard uncertainty of a display step; JCGM 100:2008, F.2.2.1


@dataclass(frozen=True, slots=True)
class Calibration:
    """As the certificate states it: expanded uncertainty U [mm] with its coverage factor k."""

    U: float
    k: float = 2.0
    date: str = ""
    certificate: str = ""


@dataclass(frozen=True, slots=True)
class Repeatability:
    """Scatter s [mm] of single readings before the display rounds them, from n readings (None: taken as known)."""

    s: float
    n: int | None = None

    @property
    def dof(self) -> float:
        """Degrees of freedom of s."""
        return inf if self.n is None else float(self.n - 1)


@dataclass(frozen=True, slots=True)
class Gauge:
    """One gauge at one revision. `leaves` are marked thicknesses [mm]; `leaf_error` is the ± bound on each of them."""

    id: str
    kind: str
    unit: str
    resolution: float
    calibration: Calibration | None = None
    permissible_error: float | None = None
    repeatability: Repeatability | None = None
    leaf_error: float = 0.0
    leaves: tuple[float, ...] = ()
    expansion: float = 11.5e-6
    revision: int = 0
    assumed: bool = False

    @property
    def key(self) -> str:
        """Name of this revision, by which its shared errors are known."""
        return f"{self.id}#{self.revision}"

    @property
    def s(self) -> float:
        """Scatter of one reading before rounding [mm]; 0 when none is stated."""
        return self.repeatability.s if self.repeatability else 0.0

    @property
    def scatter_dof(self) -> float:
        """Degrees of freedom of the scatter; infinite when it is taken as known."""
        return self.repeatability.dof if self.repeatability else inf


def calibration_source(gauge: Gauge) -> Source | None:
    """The stated calibration, one error shared by all readings of this revision: u = U / k (JCGM 100:2008, 4.3.3)."""
    if gauge.calibration is None:
        return None
    return Source("calibration", gauge.key, gauge.calibration.U / gauge.calibration.k)


def permissible_source(gauge: Gauge, size_group: int) -> Source | None:
    """The permissible error ± MPE, one error shared within one size group and not beyond (judgement)."""
    if gauge.permissible_error is None:
        return None
    return bounded("permissible error", f"{gauge.key}@{size_group}", gauge.permissible_error)


def defects(gauge: Gauge) -> list[str]:
    """What contradicts itself in a gauge, each with what to do; empty when nothing does."""
    return [
        f"gauge {gauge.id}: {text}"
        for found in (_step_defects(gauge), _doubt_defects(gauge), _leaf_defects(gauge))
        for text in found
    ]


def _step_defects(gauge: Gauge) -> list[str]:
    found = []
    if not (isfinite(gauge.resolution) and gauge.resolution > 0):
        found.append(
            f"resolution is {gauge.resolution:g}; give the smallest step the display or scale can show, more than 0"
        )
    if not isfinite(gauge.expansion) or abs(gauge.expansion) > 1e-3:
        found.append(f"expansion is {gauge.expansion:g} per kelvin; steel is about 0.0000115, check the powers of ten")
    return found


def _doubt_defects(gauge: Gauge) -> list[str]:
    found = []
    calibration, repeatability, permissible = gauge.calibration, gauge.repeatability, gauge.permissible_error
    if calibration and not (isfinite(calibration.U) and calibration.U >= 0):
        found.append(f"calibration U is {calibration.U:g}; copy it from the certificate, 0 or more")
    if calibration and not (isfinite(calibration.k) and calibration.k > 0):
        found.append(f"calibration k is {calibration.k:g}; it stands beside U on the certificate, usually 2")
    if permissible is not None and not (isfinite(permissible) and permissible >= 0):
        found.append(f"permissible error is {permissible:g}; give the size of the ± bound, 0 or more")
    if repeatability and not (isfinite(repeatability.s) and repeatability.s >= 0):
        found.append(f"repeatability s is {repeatability.s:g}; give the scatter of single readings, 0 or more")
    if repeatability and repeatability.n is not None and repeatability.n < 2:
        found.append(f"repeatability rests on n = {repeatability.n}; it needs 2 readings or more, or leave n out")
    return found


def _leaf_defects(gauge: Gauge) -> list[str]:
    found = []
    if not (isfinite(gauge.leaf_error) and gauge.leaf_error >= 0):
        found.append(f"leaf error is {gauge.leaf_error:g}; give the ± bound on a leaf's thickness, 0 or more")
    if any(not (isfinite(leaf) and leaf > 0) for leaf in gauge.leaves):
        found.append("a leaf has no thickness; every leaf of the set needs more than 0")
    if len(set(gauge.leaves)) != len(gauge.leaves):
        found.append("the set names one leaf twice; name each thickness once")
    gaps = [thick - thin for thin, thick in zip(sorted(gauge.leaves), sorted(gauge.leaves)[1:], strict=False)]
    if any(0 < gap <= 2 * gauge.leaf_error for gap in gaps):
        found.append(f"two leaves lie closer than twice the leaf error {gauge.leaf_error:g}: check both")
    return found
