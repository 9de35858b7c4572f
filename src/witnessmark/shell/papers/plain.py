"""Views as plain data for the typesetter."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from witnessmark.draw.shape import Drawing
from witnessmark.draw.svg import svg
from witnessmark.shell.papers.letters import breakable, drawable


def plain(value: Any) -> Any:
    """A view as plain data: drawings as SVG in black, texts with letters that the fonts have."""
    if isinstance(value, Drawing):
        return {"svg": svg(value, printed=True), "width": value.width, "height": value.height, "name": value.name}
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, tuple | list):
        return [plain(one) for one in value]
    return breakable(drawable(value)) if isinstance(value, str) else value
