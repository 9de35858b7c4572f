"""What the readings of an assembled engine hint at, in a sentence or two each, with the trap that reads the same."""

from collections.abc import Mapping, Sequence

from witnessmark.assemble.verify import Finding
from witnessmark.engine.place import shown

_LOW = (
    "{who} low: the lowest is {share} of the highest, and {line} (common practice, no source). A crumb of carbon on "
    "a seat, a tight lash or a cold engine reads so too: read again warm, then try it wet and by leakage."
)
_ALL = "All are low, about {share} of what is expected"
WORDS: Mapping[str, str] = {
    "uneven": _LOW,
    "somewhat uneven": _LOW,
    "two neighbours low": "{who} neighbours and low together: look at the gasket between them.",
    "all low and tight": _ALL + ", and leakage is good: a late camshaft, weak cranking, a shut throttle or thin air, "
    "not wear. Check timing and battery, and that air pressure and closing angle are entered as they are.",
    "all low": _ALL + ", and at least one leaks: begin with the leakage, and check battery, throttle and timing "
    "besides.",
    "all low, leakage not read": _ALL + ". Leakage tells whether it is wear; a late camshaft, a weak battery, a cold "
    "engine and a shut throttle read the same.",
    "all high": "All are above what is expected: oil or carbon in the chambers, a thinner gasket or a deeper cut than "
    "entered, or a gauge that reads too much.",
    "builds up slowly": "{who} at {share} of the highest after the first stroke: what builds up slowly is usually "
    "rings.",
    "wet gains": "{who} {share} higher with oil: rings or bore rather than valves. Much oil, or a cylinder that lies "
    "flat, gains too.",
    "wet gains nothing": "{who} no higher with oil by anything that counts: low and wet alike points to a valve or the "
    "gasket.",
    "wet is lower": "{who} lower with oil than without: battery, throttle or hose changed between the two; read both "
    "again.",
}  # fmt: skip
_LINE = {"uneven": "the usual line is", "somewhat uneven": "many want"}


def finding_words(found: Finding) -> str:
    """What stands out, what it usually means, and what else reads like it."""
    line = f"{_LINE.get(found.name, '')} {_percent(found.facts.get('line', 0.0))}"
    return WORDS[found.name].format(who=_named(found.places), share=_percent(found.facts.get("share", 0.0)), line=line)


def _named(places: Sequence[str]) -> str:
    numbers = [shown(place).removeprefix("Chamber ") for place in places]
    if len(numbers) == 1:
        return f"Cylinder {numbers[0]} is"
    return f"Cylinders {', '.join(numbers[:-1])} and {numbers[-1]} are" if numbers else ""


def _percent(value: float) -> str:
    return f"{100 * value:.0f} %"
