"""Witnessmark: from the gauge in the hand to a judged record of the engine on the bench."""

import sys
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from witnessmark.api import Judged as Judged
    from witnessmark.api import Row as Row
    from witnessmark.api import characteristics as characteristics
    from witnessmark.api import judge as judge
    from witnessmark.api import load_job as load_job
    from witnessmark.api_plan import ledger as ledger
    from witnessmark.api_plan import plan as plan

__all__ = ["Judged", "Row", "characteristics", "judge", "ledger", "load_job", "plan"]
_WORK = ("ledger", "plan")


def __getattr__(name: str) -> Any:
    """The public names wake numpy and the catalogue only when they are asked for, so that --help stays quick."""
    if name in _WORK:
        from witnessmark import api_plan

        return getattr(api_plan, name)
    if name in __all__:
        from witnessmark import api

        return getattr(api, name)
    raise AttributeError(f"witnessmark has no {name!r}; it has {', '.join(__all__)}")


class _Package(ModuleType):
    """`judge` and `plan` are functions to users and rooms to the code: importing a room must not hide the function."""

    @property
    def judge(self) -> Any:
        from witnessmark import api

        return api.judge

    @judge.setter
    def judge(self, room: ModuleType) -> None:
        """The room stays where imports look for it, in sys.modules."""

    @property
    def plan(self) -> Any:
        from witnessmark import api_plan

        return api_plan.plan

    @plan.setter
    def plan(self, room: ModuleType) -> None:
        """As for `judge`."""


sys.modules[__name__].__class__ = _Package
