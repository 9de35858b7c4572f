"""A paper sheet that was written on and is typed back: the walk keeps to its stations, in its order."""

from dataclasses import replace

from witnessmark.desk.route import Stop
from witnessmark.desk.sheets.blank_sheet import NoSheet, route_of_sheet
from witnessmark.desk.state import State
from witnessmark.shell.web.trouble import Trouble


def sheet_stops(state: State, code: str) -> tuple[Stop, ...]:
    """The stations of a blank sheet; Trouble 404 where the job has none of this code."""
    try:
        return route_of_sheet(state, code)
    except NoSheet as none:
        said = str(none)
        raise Trouble(404, f"{said[:1].upper()}{said[1:]}.", "The code stands at the top right of the sheet.",
                      where="sheet") from None  # fmt: skip


def along_sheet(state: State, code: str) -> State:
    """The same job with the walk of one sheet; without a code as it is."""
    return replace(state, only=sheet_stops(state, code)) if code else state
