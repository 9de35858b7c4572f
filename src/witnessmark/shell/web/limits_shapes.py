"""Shapes of the limit sheet, entry by entry; the mark of what was before the eyes goes with each change."""

from typing import Annotated, Literal

from pydantic import BaseModel, Field

from witnessmark.desk import limits
from witnessmark.shell.web.shapes import Id, Name, Plain, Sheet, Short, Stamped, _In

Seen = Annotated[Short, Field(description="The mark that was before the eyes; another by now is told with 409. Left "
                                          "out, nothing is compared.")]  # fmt: skip


class KeyIn(_In):
    """What an entry is known by. All but the characteristic may be left out."""

    characteristic: Name
    for_: Short = Field("", alias="for", description="inl or exh; left out, both.")
    position: Short = Field("", description="f or r; left out, both.")
    place: Short = ""
    stations: Short = Field("", description="What of many readings it limits, where the entry says so.")

    def key(self) -> limits.Key:
        """The same for the desk."""
        return limits.Key(self.characteristic, self.for_, self.position, self.place, self.stations)


class EntryIn(Stamped):
    """One limit as it is typed; a text left out is a blank left empty. `was` is the entry whose place it takes."""

    entry: KeyIn
    was: KeyIn | None = None
    low: Short = ""
    high: Short = ""
    new_low: Short = ""
    new_high: Short = ""
    given: Short = ""
    accept: list[Name] = Field(default_factory=list, max_length=12)
    unit: Short = ""
    page: Short = ""
    document: Short = ""
    doubt: Short = ""
    checked: bool = Field(False, description="It was held against the document.")
    seen: Seen = ""

    def typed(self) -> limits.Typed:
        """The same for the desk."""
        return limits.Typed(
            self.entry.key(), self.low, self.high, self.new_low, self.new_high, self.given, tuple(self.accept),
            self.unit, self.page, self.document, self.doubt, self.checked,
        )  # fmt: skip


class RemoveIn(Stamped):
    """The entry that goes."""

    entry: KeyIn
    seen: Seen = ""


class CheckIn(Stamped):
    """The entry that `by` held against the document; none is all of the sheet. Without a name it is no check."""

    entry: KeyIn | None = None
    page: Short = ""
    seen: Seen = ""


class CopyIn(Stamped):
    """The sheet of another job of this bench, or a text with words that say where it comes from."""

    from_job: Id | None = None
    text: Sheet | None = None
    source: Short = ""
    name: Short = ""
    replace: bool = Field(False, description="It may stand in place of a sheet that is there.")


class AllowIn(Stamped):
    """What the book says of an operation; `allowed` left empty takes it out again."""

    operation: Name
    allowed: Literal["", "yes", "no", "up to", "unknown"] = ""
    most: Short = ""
    unit: Short = ""
    page: Short = ""
    seen: Seen = ""


class SheetIn(Stamped):
    """The head of the sheet."""

    name: Name
    document: Name
    doubt: Literal["", "must be proven good", "must be proven bad", "even"] = ""
    invented: bool = False
    seen: Seen = ""


class KeyOut(BaseModel):
    """What an entry is known by, to be sent back as it is."""

    characteristic: str
    for_: str = Field(serialization_alias="for")
    position: str
    place: str
    stations: str

    @classmethod
    def of(cls, key: limits.Key) -> "KeyOut":
        """From the desk's own."""
        return cls(characteristic=key.characteristic, for_=key.for_, position=key.position, place=key.place,
                   stations=key.stations)  # fmt: skip


class EntryOut(BaseModel):
    """An entry with its mark; `says` has more than one where two entries are for the same places."""

    entry: KeyOut
    mark: str
    says: list[Plain]


class AllowedOut(BaseModel):
    """What the sheet says of an operation, with its mark."""

    mark: str
    says: Plain


class SheetOut(BaseModel):
    """The sheet in force; where it cannot be read, its text alone. `mark` is that of the sheet as a whole."""

    name: str
    document: str
    mark: str
    file: str
    text: str
    readable: bool
    entries: list[EntryOut]
    operations: dict[str, AllowedOut]
