"""A joint in memory: a procedure and the events of a run, as keys at the bolts would make them."""

from dataclasses import dataclass, field
from typing import Any

from witnessmark.assemble.stages import Run, run_of
from witnessmark.limits.procedure import Procedure, procedure
from witnessmark.record.job import Did

TEN = {"1": ["188", "49"], "2": ["188", "-49"], "3": ["282", "-49"], "4": ["282", "49"], "5": ["94", "49"],
       "6": ["94", "-49"], "7": ["376", "-49"], "8": ["376", "49"], "9": ["0", "49"], "10": ["0", "-49"]}  # fmt: skip
ORDER = [str(n) for n in range(1, 11)]
STAGES = [{"torque": "25", "unit": "N·m"}, {"angle": "90"}, {"angle": "90"}]


def made(**more: Any) -> Procedure:
    """Ten head bolts, 25 N·m and twice 90 degrees, unless told otherwise. Faults are a mistake of the test."""
    found, faults = procedure("head", {"bolts": TEN, "order": ORDER, "stages": STAGES, "thread": "M10x1.5",
                                       "strength": "10.9", "threads": "oiled", **more})  # fmt: skip
    assert not faults, faults
    return found


@dataclass
class Joint:
    """A run over a joint; each method is one key."""

    procedure: Procedure = field(default_factory=made)
    way: str = "tighten"
    dids: list[Did] = field(default_factory=list)

    @property
    def begun(self) -> Did:
        return Did("tightening_begun", {"joint": "head", "way": self.way, "wrench": "W-01", "angle_by": "A-01"}, "run")

    @property
    def run(self) -> Run:
        return run_of(self.begun, self.procedure, self.dids)

    def add(self, kind: str, bolt: str, **more: str) -> None:
        n = len(self.dids) + 1
        self.dids.append(Did(kind, {"run": "run", "bolt": bolt, **more}, f"e{n}", n, f"2026-11-26T09:{n:02}:00Z", "J. M."))

    def turn(self, final: str = "", unit: str = "N·m") -> str:
        """Turn the bolt that is next; its name."""
        following = self.run.next
        assert following is not None
        stage, bolt = following
        torque = {"final_torque": final, "unit": unit} if final else {}
        self.add("bolt_turned", bolt, stage=str(stage), **torque)
        return bolt

    def through(self, stages: int) -> "Joint":
        """Turn every bolt through this many stages."""
        for _ in range(sum(len(work.order) for work in self.run.works[:stages])):
            self.turn()
        return self
