"""What can come of reading a text other than an amount: a question back, or a sentence on what to do."""

from dataclasses import dataclass

from witnessmark.quantity.amount import Amount

LONGEST = 200  # characters of one entry


@dataclass(frozen=True, slots=True)
class Answer:
    """One thing that the text may mean, in words and as an amount."""

    label: str
    amount: Amount


@dataclass(frozen=True, slots=True)
class Asked:
    """The text has two or three believable meanings. None of the answers is preset."""

    text: str
    question: str
    answers: tuple[Answer, ...]


@dataclass(frozen=True, slots=True)
class Unread:
    """The text cannot be read. `start` and `end` mark the characters at fault, for a wavy line under them."""

    text: str
    message: str
    start: int
    end: int


def too_long(text: str) -> Unread:
    """The refusal of an entry that is longer than any reading; what is beyond the limit is marked."""
    return Unread(
        text, f"{len(text)} characters. One reading has at most {LONGEST}: send one at a time.", LONGEST, len(text)
    )
