"""A doubt budget as a picture: what makes a value doubtful, the largest share on top.

A bar's length is the share of the variance; shared sources (a calibration, a setting) are filled, a reading's own noise
is hollow, for only the hollow part shrinks when the reading is repeated.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.draw.extent import text_width
from witnessmark.draw.shape import Drawing, Line, Rect, Shape, Text


@dataclass(frozen=True, slots=True)
class Share:
    """One source: its name, its standard uncertainty as shown, its part of the variance (0 to 1), whether shared."""

    name: str
    u: str
    part: float
    shared: bool = True


def budget(shares: Sequence[Share], total: str, name: str, width: float = 520) -> Drawing:
    """Bars by share, widest first; `total` is the combined standard uncertainty as shown.

    Raises ValueError where a part lies outside 0 to 1 or the parts do not make one whole.
    """
    whole = sum(share.part for share in shares)
    if any(not 0 <= share.part <= 1 for share in shares) or (shares and abs(whole - 1) > 1e-6):
        raise ValueError(f"the shares of a budget are parts of one whole and make {whole:.4g}: divide by the variance")
    order = sorted(shares, key=lambda share: (-share.part, share.name))
    names = max([text_width(share.name, 16) for share in order] + [80.0]) + 12
    values = max([text_width(text, 16, True) for text in (total, *(share.u for share in order))]) + 12
    room = width - names - values - 62
    shapes: list[Shape] = []
    for i, share in enumerate(order):
        shapes += _bar(share, 12 + 30 * i, names, values, max(room, 60.0))
    low = 12 + 30 * len(order)
    right = names + values + max(room, 60.0) + 62
    shapes += [Line(0, low, right, low, "thin"), Text(0, low + 22, "together", "ink", 16, bold=True),
               Text(names + values - 12, low + 22, total, "ink", 16, "end", True)]  # fmt: skip
    return Drawing(right, low + 34, name, tuple(shapes))


def _bar(share: Share, y: float, names: float, values: float, room: float) -> tuple[Shape, ...]:
    left, length = names + values, max(share.part * room, 1.0)
    bar = Rect(left, y, length, 14, "ink" if share.shared else "close_open")
    return (
        Text(0, y + 13, share.name, "ink", 16),
        Text(left - 12, y + 13, share.u, "ink", 16, "end"),
        bar,
        Text(left + length + 8, y + 13, _percent(share.part), "label", 16),
    )


def _percent(part: float) -> str:
    return "<1 %" if 0 < part < 0.01 else f"{part * 100:.0f} %"
