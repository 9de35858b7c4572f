"""What a plan is made of, as values."""

from collections.abc import Mapping
from contextlib import nullcontext
from dataclasses import dataclass, field

from witnessmark.catalogue.entry import Catalogue
from witnessmark.engine.model import Model
from witnessmark.engine.state import State
from witnessmark.judge.result import Result
from witnessmark.limits.sheet import Sheet
from witnessmark.plan.milp import Quiet
from witnessmark.plan.offers import Wish
from witnessmark.plan.prices import Prices


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """All that a plan is made of. `removed` is what was taken off before, by (operation, location) in mm."""

    model: Model
    state: State
    sheet: Sheet | None
    prices: Prices | None
    catalogue: Catalogue
    results: tuple[Result, ...]
    wish: Wish = field(default_factory=Wish)
    wanted: float | None = None
    removed: Mapping[tuple[str, str], float] | None = None
    seconds: float = 10.0
    quiet: Quiet = nullcontext

    @property
    def tolerances(self) -> dict[str, float]:
        """What the machines keep [mm], as standard uncertainty by operation."""
        work = self.prices.work if self.prices else {}
        return {name: one.tolerance for name, one in work.items() if one.tolerance}
