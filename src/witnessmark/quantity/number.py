"""The digits of an entry as an exact number, with the size of the last digit written.

Marks: a point or a comma is the decimal mark; where both stand, the last one is, and the other marks thousands. One
comma with exactly three digits after it and one to three before it, the first no zero, may be either: both numbers
are given. Fractions: `5/8`, `1 5/8`, `1-5/8`, `⅝`, `1⅝`. All rules here are common practice, no source.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from unicodedata import normalize

VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
STROKE = "[/\u2044\u2215]"
MINUS = "\\-\u2212\u2012\u2013\ufe63\uff0d"
SIGN = re.compile(rf"[+{MINUS}]")
MIXED = re.compile(rf"([0-9]+)(?:\s*[-\u2010\u2011]\s*|\s+)([0-9]+)\s*{STROKE}\s*([0-9]+)")
FRACTION = re.compile(rf"([0-9]+)\s*{STROKE}\s*([0-9]+)")
VULGAR_FRACTION = re.compile(rf"(?:([0-9]+)(?:\s*-\s*|\s*))?([{VULGAR}])")
DIGITS = re.compile(r"[0-9.,]*[0-9][0-9.,]*")
MARKED = re.compile(r"[0-9.,]*")
GROUPED = re.compile(r"[1-9][0-9]{0,2}(?:[.,][0-9]{3})+")
EITHER = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


@dataclass(frozen=True, slots=True)
class Number:
    """An exact number that ends before `end`. `thousands` is its other meaning, where a comma may mark thousands."""

    value: Fraction
    step: Fraction
    end: int
    fraction: bool = False
    thousands: Fraction | None = None


class Blot(Exception):
    """Characters that cannot be read as a number: what to do, and from where to where they stand."""

    def __init__(self, message: str, start: int, end: int) -> None:
        super().__init__(message)
        self.message, self.start, self.end = message, start, end


def scan(text: str) -> Number:
    """The number that begins `text`, blanks before it skipped. Raises Blot."""
    _foreign_digits(text)
    start = len(text) - len(text.lstrip())
    sign = SIGN.match(text, start)
    at = start
    if sign:
        at = sign.end() + len(text[sign.end() :]) - len(text[sign.end() :].lstrip())
        if SIGN.match(text, at):
            raise Blot("Two signs. Rub one out.", at, at + 1)
    number = _fraction(text, at) or _decimal(text, at, start)
    if sign and sign[0] != "+":
        thousands = None if number.thousands is None else -number.thousands
        return Number(-number.value, number.step, number.end, number.fraction, thousands)
    return number


def written(value: Fraction, step: Fraction) -> str:
    """A number in digits, with the decimals of its step; exact for whatever was read as a decimal."""
    decimals = 0
    while (step * 10**decimals).denominator != 1 and decimals < 12:
        decimals += 1
    scaled = abs(value) * 10**decimals
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    digits = str(whole).rjust(decimals + 1, "0")
    body = f"{digits[:-decimals]}.{digits[-decimals:]}" if decimals else digits
    return f"-{body}" if value < 0 else body


def _foreign_digits(text: str) -> None:
    for index, character in enumerate(text):
        if character.isdecimal() and not character.isascii():
            end = index
            while end < len(text) and text[end].isdecimal() and not text[end].isascii():
                end += 1
            raise Blot("Digits of another script or width. Switch the keyboard to plain 0 to 9.", index, end)


def _fraction(text: str, at: int) -> Number | None:
    if found := VULGAR_FRACTION.match(text, at):
        top, bottom = normalize("NFKC", found[2]).split("\u2044")
        return _mixed(found, found[1] or "0", top, bottom)
    if found := MIXED.match(text, at):
        if int(found[2]) >= int(found[3]) > 0:
            raise Blot(
                f"{found[2]}/{found[3]} is a whole or more. Write the whole number and what is left over.",
                found.start(2),
                found.end(3),
            )
        return _mixed(found, found[1], found[2], found[3])
    if found := FRACTION.match(text, at):
        return _mixed(found, "0", found[1], found[2])
    return None


def _mixed(found: re.Match[str], whole: str, top: str, bottom: str) -> Number:
    if int(bottom) == 0:
        raise Blot("Nothing can be divided by 0. Type the fraction again.", found.end() - len(bottom), found.end())
    step = Fraction(1, int(bottom))
    return Number(int(whole) + int(top) * step, step, found.end(), fraction=True)


def _decimal(text: str, at: int, start: int) -> Number:
    found = DIGITS.match(text, at)
    if not found:
        if at == len(text):
            what = "Nothing to read. Type the number." if start == at else "A sign alone. Type the number after it."
            raise Blot(what, start, at)
        marks = MARKED.match(text, at)
        end = max(marks.end() if marks else at, _word_end(text, at), start)
        raise Blot("No digits. Type the number first, then the unit.", start, end)
    body = found[0]
    points, commas = body.count("."), body.count(",")
    if commas and points:
        whole, part = _both_marks(body, at)
    elif commas > 1 and GROUPED.fullmatch(body):
        whole, part = body.replace(",", ""), ""
    elif points > 1 or commas > 1:
        mark, word = (".", "points") if points > 1 else (",", "commas")
        second = at + body.index(mark, body.index(mark) + 1)
        raise Blot(f"{'Two' if max(points, commas) == 2 else 'Too many'} {word}. Rub one out.", second, second + 1)
    else:
        whole, _, part = body.replace(",", ".").partition(".")
    thousands = Fraction(body.replace(",", "")) if EITHER.fullmatch(body) else None
    return Number(Fraction(f"{whole or 0}.{part or 0}"), Fraction(1, 10 ** len(part)), found.end(), thousands=thousands)


def _both_marks(body: str, at: int) -> tuple[str, str]:
    """Whole part and decimals where comma and point both stand: the last mark is the decimal one."""
    last = max(body.rindex("."), body.rindex(","))
    whole, part = body[:last], body[last + 1 :]
    other = "," if body[last] == "." else "."
    first = min(body.index("."), body.index(","))
    if body[last] in whole or not GROUPED.fullmatch(whole):
        raise Blot("A point and a comma, and not three digits between them. Rub one out.", at + first, at + last + 1)
    return whole.replace(other, ""), part


def _word_end(text: str, at: int) -> int:
    word = re.compile(r"\S*").match(text, at)
    return word.end() if word else at
