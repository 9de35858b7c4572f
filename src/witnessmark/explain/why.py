"""Every verdict says why, in one sentence with numbers. One function per reason; a test demands one for each."""

from collections.abc import Callable, Mapping

from witnessmark.explain.words import end_words, limit_words, settle_words, shown_in, value_words, with_unit
from witnessmark.judge.result import Result
from witnessmark.quantity.show import show_chance

ON_LIMIT = 1e-9  # of the value: what adding and taking away leave of no distance at all


def why(result: Result, display: str = "mm") -> str:
    """The reason of a result in a few sentences, with units in mm or in."""
    return REASONS[result.reason](result, display) + _source(result) + beside(result)


def _held(result: Result, display: str) -> str:
    return limit_words(result.against, result, display, beside=True)


def _source(result: Result) -> str:
    held = result.against
    if held is None or not result.verdict or not (held.document or held.page):
        return ""
    to_check = "copied and still to be checked" if held.to_check else ""
    parts = (held.document, f"page {held.page}" if held.page else "", to_check)
    return f" Limit: {', '.join(part for part in parts if part)}."


def beside(result: Result) -> str:
    """What else a reader of the verdict must know: a zero check, a gauge past its date, the route; "" for nothing."""
    told = []
    if result.suspect:
        many = "a reading" if len(result.suspect) == 1 else f"{len(result.suspect)} readings"
        told.append(f"A later zero check was not passed and throws doubt on {many} behind this; measure again.")
    if result.overdue:
        told.append(f"{' and '.join(result.overdue)} had passed the date of its next calibration when read.")
    if result.near and not result.complete:
        told.append("This comes near its limit, so the quick route asks for all stations here.")
    elif result.extent == "quick" and result.complete:
        told.append("Read on the quick route: the worst places only.")
    return "".join(f" {sentence}" for sentence in told)


def _doubt(result: Result, display: str) -> str:
    doubt = shown_in(result, display).doubt(2 * (result.u or 0.0))
    return f"{with_unit(f'U {doubt}', result, display)} (k = 2)"


def _away(result: Result, display: str) -> str:
    """How far the value stands from the nearer limit, on which side."""
    held, value = result.against, result.value
    assert held is not None and value is not None
    low = None if held.low is None else value - held.low
    high = None if held.high is None else held.high - value
    over_low = low is not None and (high is None or abs(low) <= abs(high))
    room = low if over_low else high
    assert room is not None
    side = ("above" if room >= 0 else "under") if over_low else ("under" if room >= 0 else "above")
    end = end_words(result, display, low=over_low)
    if abs(room) <= ON_LIMIT * abs(value):
        return f"{value_words(result, display)} stands on the {end} you entered"
    distance = shown_in(result, display).distance(abs(room))
    return f"{value_words(result, display)} is {distance} {side} the {end} you entered"


def _stations(result: Result) -> str:
    if result.rule != "worst" or result.needed < 2:
        return ""
    return f" The worst of {result.read} stations decides."


def _value_within(result: Result, display: str) -> str:
    chance = show_chance(result.p_within if result.p_within is not None else 0.0)
    away, doubt = _away(result, display), _doubt(result, display)
    return f"{away}; with {doubt} the chance of holding is {chance}.{_stations(result)}"


def _value_out(result: Result, display: str) -> str:
    return f"{_away(result, display)}, further than {_doubt(result, display)} can explain.{_stations(result)}"


def _value_close(result: Result, display: str) -> str:
    chance = show_chance(result.p_within if result.p_within is not None else 0.0)
    away, doubt = _away(result, display), _doubt(result, display)
    told = _cure(result, display)
    return f"{away}, nearer than {doubt} allows: chance of holding {chance}.{told}{_stations(result)}"


def _cure(result: Result, display: str) -> str:
    cure = result.settle
    if cure is None:
        return ""
    if cure.kind == "repeats" and cure.chance is not None:
        settles = show_chance(cure.chance)
        many = f" {cure.repeats} readings in all"
        return f"{many} would settle it if the mean stays here (chance that they do {settles})."
    if cure.kind == "gauge" and cure.U:
        needed = shown_in(result, display).doubt(cure.U)
        return f" Repeats alone do not help; a gauge with U {needed} would settle it here."
    return f" {settle_words(result, display).capitalize()}."


def _gap(result: Result, display: str) -> str:
    write = shown_in(result, display)
    assert result.interval is not None
    low, high = result.interval
    if high is None:
        return f"leaf {write.number(low)} enters and none thicker was tried"
    enters = f"leaf {write.number(low)} enters" if low > 0 else "not even the thinnest leaf enters"
    return f"{enters}, leaf {write.number(high)} does not"


def _leaves_within(result: Result, display: str) -> str:
    return f"{_gap(result, display).capitalize()}; the limit you entered is {_held(result, display)}."


def _leaves_out(result: Result, display: str) -> str:
    return f"{_gap(result, display).capitalize()}: outside the limit you entered, {_held(result, display)}."


def _leaves_close(result: Result, display: str) -> str:
    cure = settle_words(result, display)
    return (f"{_gap(result, display).capitalize()}; the limit {_held(result, display)} lies between them."
            f" {cure.capitalize()} would settle it.")  # fmt: skip


def _floor(result: Result, display: str) -> str:
    write = shown_in(result, display)
    passes = "" if result.perfect_passes is None else f", and passes {show_chance(result.perfect_passes)} of the time"
    return f" With this gauge a perfect part would read {write.doubt(result.floor or 0.0)}{passes}."


def _form(words: str) -> Callable[[Result, str], str]:
    def sentence(result: Result, display: str) -> str:
        held = _held(result, display)
        value, floor = value_words(result, display), _floor(result, display)
        return f"Largest less smallest is {value}, against {held}: {words}.{floor}"

    return sentence


def _no_limit(result: Result, display: str) -> str:
    return f"{value_words(result, display)}, and no limit has been entered to hold it against."


def _looked(result: Result, display: str) -> str:
    """What was said, how it was looked at, and at how many places."""
    by = f", {result.method_term}" if result.method_term else ""
    of = f" at the worst of {result.read} places" if result.rule == "worst" and result.read > 1 else ""
    return f"{value_words(result, display).capitalize()}{of}{by}"


def _look_within(result: Result, display: str) -> str:
    return f"{_looked(result, display)}: the limit you entered accepts {_held(result, display)}."


def _look_out(result: Result, display: str) -> str:
    return f"{_looked(result, display)}: outside the limit you entered, which accepts {_held(result, display)}."


def _look_doubt(result: Result, display: str) -> str:
    return f"{_looked(result, display)}: that is no yes and no no.{_other_method(result)}"


def _look_unproven(result: Result, display: str) -> str:
    misses = str(result.extra.get("misses") or "").partition(". ")[0].rstrip(".")
    blind = f", and this way of looking misses {misses[:1].lower()}{misses[1:]}" if misses else ""
    return f"{_looked(result, display)}: nothing was seen{blind}.{_other_method(result)}"


def _look_amount_unsaid(result: Result, display: str) -> str:
    held = limit_words(result.against, result, display)
    return f"{_looked(result, display)}: the limit you entered is {held}, and how much was not said. Measure it."


def _other_method(result: Result) -> str:
    cure = result.settle
    if cure is not None and cure.kind == "material":
        return (" A way of looking proves only on the metal that it works on, and nobody said which this is:"
                " say what the head is made of.")  # fmt: skip
    if cure is None or cure.kind != "method":
        return " Look again, or have it looked at by somebody else."
    return f" {cure.method_term[:1].upper()}{cure.method_term[1:]} would settle it."


REASONS: Mapping[str, Callable[[Result, str], str]] = {
    "value within": _value_within,
    "value out": _value_out,
    "value close": _value_close,
    "leaves within": _leaves_within,
    "leaves out": _leaves_out,
    "leaves close": _leaves_close,
    "form within": _form("so little would come of a part at the limit only once in twenty"),
    "form out": _form("more than the noise of the gauge makes of a part at the limit"),
    "form close": _form("the noise of the gauge alone could make that of a part at the limit"),
    "look within": _look_within,
    "look out": _look_out,
    "look amount out": _look_out,
    "look amount unsaid": _look_amount_unsaid,
    "look doubt": _look_doubt,
    "look unproven": _look_unproven,
    "no limit": _no_limit,
}
