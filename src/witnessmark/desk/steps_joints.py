"""Which joints of the limit sheet a step of assembly stands for, and what keeps it from being signed."""

from witnessmark.assemble.stages import Run
from witnessmark.desk.state import State
from witnessmark.desk.tighten import joints, run_now
from witnessmark.limits.procedure import Procedure

HEAD, CAPS, AGAIN = "head_tight", "cam_caps", "tightened_again"


def is_head(joint: str) -> bool:
    """Whether a joint holds a head: `head`, or that of a bank, `left_head`."""
    return joint == "head" or joint.endswith("_head")


def belongs(step: str, procedure: Procedure) -> bool:
    """Whether a joint is tightened in a step."""
    kind = step.split("@", maxsplit=1)[0]
    if kind == CAPS:
        return procedure.caps or procedure.joint.startswith("cam")
    return kind in (HEAD, AGAIN) and is_head(procedure.joint)


def open_joints(state: State, step: str) -> tuple[str, ...]:
    """What is still to be tightened before a step is done, in words; nothing where the sheet names no joint for it."""
    found = []
    for name, procedure in joints(state).items():
        if belongs(step, procedure):
            said = _open(run_now(state, name), again=step.split("@", maxsplit=1)[0] == AGAIN)
            if said:
                found.append(f"{procedure.term}: {said}")
    return tuple(found)


def _open(run: Run | None, *, again: bool) -> str:
    if run is None or run.way == "loosen":
        return "not tightened yet"
    if run.doubts or run.stop:
        return f"bolt {run.doubts[0] if run.doubts else run.stop.bolt if run.stop else ''} is in doubt"
    if not run.tight:
        return f"bolt {run.next[1]} is next" if run.next else "not finished"
    return "not gone round again yet" if again and not run.done else ""
