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

__all__ = ["Judged", "Row", "characteristics", "judge", "load_job"]


def __getattr__(name: str) -> Any:
    """The public names wake numpy and the catalogue only when they are asked for, so that --help stays quick."""
    if name in __all__:
        from witnessmark import api

        return getattr(api, name)
    raise AttributeError(f"witnessmark has no {name!r}; it has {', '.join(__all__)}")


class _Package(ModuleType):
    """`judge` is a function to users and a room to the code: importing the room must not hide the function."""

    @property
    def judge(self) -> Any:
        from witnessmark import api

        return api.judge

    @judge.setter
    def judge(self, room: ModuleType) -> None:
        """The room stays where imports look for it, in sys.modules."""


sys.modules[__name__].__class__ = _Package
