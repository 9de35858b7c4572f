"""Every verdict says why, in one sentence with numbers. One function per reason; a test demands one for each."""

from collections.abc import Callable, Mapping

from witnessmark.explain.words import end_words, limit_words, settle_words, shown_in, unit_shown, value_words
from witnessmark.judge.result import Result
from witnessmark.quantity.show import show_chance


def why(result: Result, display: str = "mm") -> str:
    """The reason of a result in one or two sentences, with units in mm or in."""
    return REASONS[result.reason](result, display) + _source(result)


def _held(result: Result, display: str) -> str:
    return limit_words(result.against, result, display, beside=True)


def _source(result: Result) -> str:
    held = result.against
    if held is None or not result.verdict or not (held.document or held.page):
        return ""
    return f" Limit: {', '.join(part for part in (held.document, f'page {held.page}' if held.page else '') if part)}."


def _doubt(result: Result, display: str) -> str:
    return f"U {shown_in(result, display).doubt(2 * (result.u or 0.0))} {unit_shown(result.quantity, display)} (k = 2)"


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
    "no limit": _no_limit,
}
