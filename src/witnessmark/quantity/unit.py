"""Units met at the bench: spellings, dimension, exact factor to the unit used inside.

Inside: mm, N, MPa, N·mm, mm³, N/mm, kg, second, radian, degree Celsius (a difference: kelvin), and 1 for ratios.

Source: inch, pound, standard gravity and the conventional inch of mercury after NIST Special Publication 811 (2008),
Appendix B; all factors are exact fractions, except that pi, for angles, is cut after 50 digits.
"""

import re
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction

INCH = Fraction("25.4")  # mm, exact
GRAVITY = Fraction("9.80665")  # m/s2, exact by convention
POUND = Fraction("0.45359237")  # kg, exact
POUND_FORCE = POUND * GRAVITY  # N, exact
MERCURY = Fraction("13595.1") * GRAVITY  # Pa for each metre of mercury, conventional
DEGREE = Fraction("3.14159265358979323846264338327950288419716939937510") / 180

ANGLES = ("angle", "angle_crank", "angle_cam")  # an angle of the crank or of the cam; "angle" does not say which
WORDS = {  # dimension -> what a sentence calls it
    "length": "a length",
    "force": "a force",
    "angle": "an angle",
    "angle_crank": "a crank angle",
    "angle_cam": "a cam angle",
    "angle_plane": "an angle of a part",
    "temperature": "a temperature",
    "temperature_difference": "a temperature difference",
    "pressure": "a pressure",
    "volume": "a volume",
    "torque": "a torque",
    "rate": "a spring rate",
    "ratio": "a ratio",
    "mass": "a mass",
    "time": "a time",
}


class UnknownUnit(ValueError):
    """A unit that is not in the table; the message names the near one."""


class OtherDimension(ValueError):
    """A value was to be turned into a unit that measures something else."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit. Value inside = value x `factor` + `offset`. `family` says which decimals go together: metric, inch or
    other."""

    name: str
    dimension: str
    factor: Fraction
    spellings: tuple[str, ...]
    offset: Fraction = Fraction(0)
    family: str = "metric"

    def inside(self, value: Fraction) -> Fraction:
        return value * self.factor + self.offset

    def outside(self, value: Fraction) -> Fraction:
        return (value - self.offset) / self.factor


def _u(
    name: str,
    dimension: str,
    factor: Fraction | int | str,
    spellings: str = "",
    *,
    offset: str = "0",
    family: str = "metric",
) -> Unit:
    return Unit(
        name,
        dimension,
        Fraction(factor),
        (name, *spellings.split("|")) if spellings else (name,),
        Fraction(offset),
        family,
    )


INCH_MARKS = "inch|inches|\"|″|”|“|''"
DEGREES = "°|degree|degrees"
CRANK = "° crank|degree crank|degrees crank|crank deg|crank degree|crank degrees|crank °|deg crankshaft|°CA"
CRANK += "|deg CA|°crank|crank°|degcrank"
CAM = "° cam|degree cam|degrees cam|cam deg|cam degree|cam degrees|cam °|deg camshaft"
CAM += "|°cam|cam°|degcam"
CELSIUS, FAHRENHEIT = "C|deg C|degC|celsius|℃", "F|deg F|degF|fahrenheit|℉"

UNITS: tuple[Unit, ...] = (
    _u("mm", "length", 1, "millimetre|millimetres|millimeter|millimeters|㎜"),
    _u("µm", "length", "0.001", "um|micron|microns|micrometre|micrometres|micrometer|micrometers|㎛"),
    _u("cm", "length", 10, "centimetre|centimetres|centimeter|centimeters"),
    _u("m", "length", 1000, "metre|metres|meter|meters"),
    _u("in", "length", INCH, INCH_MARKS, family="inch"),
    _u("thou", "length", INCH / 1000, "thous|mil|mils|thousandth|thousandths", family="inch"),
    _u("tenths", "length", INCH / 10000, "tenth|shop tenth|shop tenths", family="inch"),
    _u("µin", "length", INCH / 10**6, "uin|microinch|microinches", family="inch"),
    _u("N", "force", 1, "newton|newtons"),
    _u("kN", "force", 1000, "kilonewton|kilonewtons"),
    _u("lbf", "force", POUND_FORCE, "lb|lbs|pound|pounds", family="other"),
    _u("kgf", "force", GRAVITY, "kp|kg", family="other"),
    _u("deg crank", "angle_crank", DEGREE, CRANK, family="other"),
    _u("deg cam", "angle_cam", DEGREE, CAM, family="other"),
    _u("deg", "angle", DEGREE, DEGREES, family="other"),
    _u("deg", "angle_plane", DEGREE, DEGREES, family="other"),
    _u("rad", "angle_plane", 1, "radian|radians", family="other"),
    _u("°C", "temperature", 1, CELSIUS),
    _u("°F", "temperature", Fraction(5, 9), FAHRENHEIT, offset="-160/9", family="other"),
    _u("K", "temperature_difference", 1, "kelvin|°C|" + CELSIUS),
    _u("°F difference", "temperature_difference", Fraction(5, 9), "°F|" + FAHRENHEIT, family="other"),
    _u("MPa", "pressure", 1, "N/mm²|N/mm2"),
    _u("kPa", "pressure", "0.001"),
    _u("Pa", "pressure", "0.000001"),
    _u("bar", "pressure", "0.1"),
    _u("mbar", "pressure", "0.0001", "hPa"),
    _u("psi", "pressure", POUND_FORCE / INCH**2, "lbf/in²|lbf/in2|lb/in²|lb/in2", family="other"),
    _u("inHg", "pressure", MERCURY * INCH / 1000 / 10**6, 'in Hg|"Hg|″Hg', family="other"),
    _u("mmHg", "pressure", MERCURY / 1000 / 10**6, "mm Hg", family="other"),
    _u("mL", "volume", 1000, "ml|cc|ccm|cm³|cm3"),
    _u("mm³", "volume", 1, "mm3"),
    _u("L", "volume", 10**6, "l|litre|litres|liter|liters"),
    _u("in³", "volume", INCH**3, "in3|cu in|ci|cid", family="other"),
    _u("N·m", "torque", 1000, "Nm"),
    _u("N·mm", "torque", 1, "Nmm"),
    _u(
        "lbf·ft",
        "torque",
        POUND_FORCE * INCH * 12,
        "lb·ft|ft·lb|ft·lbf|ft·lbs|lbs·ft|lbft|ftlb|lbfft|ftlbs",
        family="other",
    ),
    _u(
        "lbf·in", "torque", POUND_FORCE * INCH, "lb·in|in·lb|in·lbf|in·lbs|lbs·in|lbin|inlb|lbfin|inlbs", family="other"
    ),
    _u("kgf·m", "torque", GRAVITY * 1000, "kgm|kg·m|kgfm|m·kg|kp·m", family="other"),
    _u("N/mm", "rate", 1),
    _u("N/m", "rate", "0.001"),
    _u("lbf/in", "rate", POUND_FORCE / INCH, "lb/in|lbs/in", family="other"),
    _u("kgf/mm", "rate", GRAVITY, "kg/mm|kp/mm", family="other"),
    _u("1", "ratio", 1, ":1|to 1"),
    _u("%", "ratio", "0.01", "percent|per cent|pct"),
    _u("g", "mass", "0.001", "gram|grams|gramme|grammes"),
    _u("kg", "mass", 1, "kilogram|kilograms"),
    _u("lb", "mass", POUND, "lbs|pound|pounds", family="other"),
    _u("oz", "mass", POUND / 16, "ounce|ounces", family="other"),
    _u("s", "time", 1, "sec|secs|second|seconds"),
    _u("min", "time", 60, "minute|minutes", family="other"),
)

# A letter's case tells these apart (M mega and m milli, Nm and nm), so they are read only as written.
CASED = frozenset({"m", "MPa", "mbar", "Nm", "Nmm", "N·m", "N·mm", "N/m", "N/mm", "N/mm²", "N/mm2", "s", "g", "K"})


def plain_spelling(text: str) -> str:
    """One form for the ways in which a unit's name is spaced, dotted and marked."""
    text = text.strip().rstrip(".").replace("\u03bc", "\u00b5").replace("\u2033", '"')
    return re.sub(r"\s*[·⋅∙•*.\-‐‑]\s*|\s+", "·", text)


def _spelling_table(*, folded: bool) -> dict[str, tuple[Unit, ...]]:
    table: dict[str, tuple[Unit, ...]] = {}
    for unit_ in UNITS:
        words = (plain_spelling(spelling) for spelling in unit_.spellings if not (folded and spelling in CASED))
        for key in dict.fromkeys(word.casefold() if folded else word for word in words):
            table[key] = (*table.get(key, ()), unit_)
    return table


AS_WRITTEN = _spelling_table(folded=False)
ANY_CASE = _spelling_table(folded=True)


def spelled(text: str) -> tuple[Unit, ...]:
    """Every unit that is spelled so: `lb` is a force and a mass, `°` an angle of two kinds. Empty where none is."""
    word = plain_spelling(text)
    return AS_WRITTEN.get(word) or ANY_CASE.get(word.casefold(), ())


def unit(name: str, dimension: str = "") -> Unit:
    """The unit with this name or spelling; of `dimension` where one is given, else the first in the table.

    Raises UnknownUnit, naming the near word.
    """
    found = [unit_ for unit_ in spelled(name) if not dimension or unit_.dimension == dimension]
    if found:
        return found[0]
    wanted = f" for {WORDS.get(dimension, dimension)}" if dimension else ""
    raise UnknownUnit(f"no unit{wanted} is called '{name[:40]}'{hint(name, dimension)}")


def names(dimension: str) -> tuple[str, ...]:
    """The names of the units that measure `dimension`."""
    return tuple(unit_.name for unit_ in UNITS if unit_.dimension == dimension)


def hint(name: str, dimension: str = "") -> str:
    """The tail of a message about an unknown unit."""
    words = sorted(
        {
            spelling
            for unit_ in UNITS
            for spelling in unit_.spellings
            if len(spelling) > 1 and (not dimension or unit_.dimension == dimension)
        }
    )
    near = get_close_matches(plain_spelling(name[:40]), words, n=1, cutoff=0.5)
    if near:
        return f"; did you mean '{near[0]}'?"
    return f"; write {', '.join(names(dimension))}" if dimension else ""
