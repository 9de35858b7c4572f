"""The word that was probably meant."""

from collections.abc import Iterable
from difflib import get_close_matches

LONGEST = 80  # beyond this no key or id was meant, and the comparison would only cost time


def near(word: str, choices: Iterable[str]) -> str | None:
    """The choice nearest to `word`, upper and lower case alike, or None where nothing is near."""
    folded = {choice.casefold(): choice for choice in sorted(choices, reverse=True)}
    if not word or len(word) > LONGEST:
        return None
    found = get_close_matches(word.casefold(), folded, n=1, cutoff=0.65)
    return folded[found[0]] if found else None


def did_you_mean(word: str, choices: Iterable[str]) -> str:
    """The tail of a message: `; did you mean 'gauge'?`, or nothing where nothing is near."""
    choice = near(word, choices)
    return f"; did you mean '{choice}'?" if choice is not None else ""
