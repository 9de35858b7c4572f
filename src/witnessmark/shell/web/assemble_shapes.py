"""What the endpoints about assembly take: a run over a joint, a key at a bolt, a doubt, its answer, a signature."""

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from witnessmark.record.shape import DOUBTS, SETTLED
from witnessmark.shell.web.shapes import Name, Short, Stamped

Note = Annotated[str, StringConstraints(max_length=400)]


class BeginIn(Stamped):
    """A run over all bolts of a joint; an extension has its length, as 60 mm, and its angle in degrees."""

    way: Literal["tighten", "loosen"] = "tighten"
    wrench: Short = ""
    angle_by: Short = ""
    threads: Short = ""
    extension: Short = ""
    extension_angle: Short = ""
    bolts: Short = ""
    note: Note = ""


class PressIn(Stamped):
    """One key at the bolt that is next. `line`: nothing, a torque, `-` lost count, `*` take back, `*1` an answer."""

    run: Name
    line: Short = ""
    saw: Annotated[Short, Field(description="`stage.bolt` that was looked at, as 2.7; left out, what is next.")] = ""
    wrench: Short = ""
    angle_by: Short = ""


class DoubtIn(Stamped):
    """A bolt of which nobody knows how far it was turned, or that behaves unlike the others."""

    run: Name
    bolt: Name
    why: Annotated[Short, Field(description=f"One of: {', '.join(DOUBTS)}.")]
    note: Note = ""


class SettleIn(Stamped):
    """What was done about a bolt in doubt."""

    run: Name
    bolt: Name
    how: Annotated[Short, Field(description=f"One of: {', '.join(SETTLED)}.")]
    note: Note = ""


class TraceIn(Stamped):
    """A trace of torque over angle as the text that came from the wrench, CSV with its units in the head."""

    text: Annotated[str, StringConstraints(max_length=5_000_000)]
    name: Name
    bolt: Short = ""
    part: Annotated[int, Field(ge=0, le=999, description="Which of two runs in one file.")] = 0


class SignIn(Stamped):
    """A step of assembly signed by `by`; out of its order, or not done, only with a note."""

    step: Name
    did: Literal["done", "not done"] = "done"
    note: Note = ""
    seen: Annotated[str | None, Field(description="The `seen` of the step that was read.")] = None
