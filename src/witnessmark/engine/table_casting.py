"""Another casting: what a head brings along with its face, its seats, its guides and its chambers.

What it brings is stated with new valves in it. The valves that are there may be put into it, and then sit higher by
what their faces have lost. All that hangs on a valve's place (lash, spring, room over the piston) follows from how much
lower it sits than before; all that hangs on the head's place, from how much higher the other head is.
"""

from typing import Any

import numpy as np

from witnessmark.engine.law import Consequence
from witnessmark.engine.operation import Changes, Working
from witnessmark.engine.quantity import NEW, WORK, Quantity
from witnessmark.engine.table_valve import mixed
from witnessmark.mechanics.law import Number

QUANTITIES: tuple[Quantity, ...] = (
    Quantity("new_head_height", "bank", "length", NEW, "height of another head"),
    Quantity("new_stem_height", "valve", "length", NEW, "stem height in another head"),
    Quantity("new_installed_height", "valve", "length", NEW, "installed height in another head"),
    Quantity("new_seat_recession", "valve", "length", NEW, "valve recession in another head"),
    Quantity("new_chamber_volume", "chamber", "volume", NEW, "chamber volume of another head"),
    Quantity("cast_higher", "bank", "length", WORK, "how much higher another head is"),
    Quantity("cast_drop", "valve", "length", WORK, "how much lower the valve sits in another head"),
    Quantity("cast_pocket", "valve", "length", WORK, "depth that is in another head's chamber volume already"),
)
LAWS: tuple[Consequence, ...] = ()


def _known(value: Any) -> Any:
    """Nothing where a difference is not known: as the one that is there."""
    return np.where(np.isnan(value), 0.0, value)


def _first(*values: Any) -> Any:
    """The first value that is known, element by element."""
    found = values[0]
    for value in values[1:]:
        found = np.where(np.isnan(found), value, found)
    return found


def head_replace(
    amount: Number, head_height: Number, new_head_height: Number, head_flatness: Number, new_head_flatness: Number,
    manifold_face_flatness: Number, new_manifold_face_flatness: Number, deck_removed: Number,
    deck_to_cam_height: Number, cast_higher: Number,
) -> Changes:  # fmt: skip
    """Another casting, finished by its maker; as high as the old one where one of the heights is not known."""
    nothing = 0.0 * amount
    higher = _known(new_head_height - head_height)
    return {
        "head_height": mixed(amount, head_height, new_head_height),
        "head_flatness": mixed(amount, head_flatness, new_head_flatness),
        "manifold_face_flatness": mixed(amount, manifold_face_flatness, new_manifold_face_flatness),
        "deck_removed": mixed(amount, deck_removed, nothing),
        "deck_to_cam_height": mixed(amount, deck_to_cam_height, deck_to_cam_height + higher),
        "cast_higher": cast_higher + mixed(amount, nothing, higher),
    }


def new_seats(
    amount: Number, guide_bore: Number, new_guide_bore: Number, stem_diameter: Number, stem_guide_clearance: Number,
    seat_width: Number, new_seat_width: Number, seat_runout: Number, new_seat_runout: Number, seat_removed: Number,
    new_margin: Number, margin: Number, new_valve_length: Number, valve_length: Number, tip_removed: Number,
    stem_height: Number, new_stem_height: Number, installed_height: Number, new_installed_height: Number,
    seat_recession: Number, new_seat_recession: Number, cast_drop: Number, cast_pocket: Number,
) -> Changes:  # fmt: skip
    """Seats and guides of another casting at each valve, where somebody said what it brings.

    Source: derived. With its old valve a new seat leaves the stem higher by what the face has lost (`worn`) and lower
    by what the tip has lost (`short`); a new valve takes both back, see `valve_replace`. How much lower the valve sits
    is told by its stem, else by its spring, else by its recession.
    """
    nothing = 0.0 * amount
    worn = _known(new_margin - margin)
    short = np.where(np.isnan(new_valve_length - valve_length), tip_removed, new_valve_length - valve_length)
    lower = _first(stem_height - (new_stem_height + worn - short), installed_height - (new_installed_height + worn),
                   seat_recession - (new_seat_recession + worn))  # fmt: skip
    return {
        "guide_bore": mixed(amount, guide_bore, new_guide_bore),
        "stem_guide_clearance": mixed(amount, stem_guide_clearance, new_guide_bore - stem_diameter),
        "seat_width": mixed(amount, seat_width, new_seat_width),
        "seat_runout": mixed(amount, seat_runout, new_seat_runout),
        "seat_removed": mixed(amount, seat_removed, nothing),
        "installed_height": mixed(amount, installed_height, new_installed_height + worn + lower),
        "seat_recession": mixed(amount, seat_recession, new_seat_recession + worn + lower),
        "cast_drop": cast_drop + mixed(amount, nothing, lower),
        "cast_pocket": cast_pocket + mixed(amount, nothing, worn + lower),
    }


def new_chamber(amount: Number, chamber_volume: Number, new_chamber_volume: Number) -> Changes:
    """The chambers of another casting."""
    return {"chamber_volume": mixed(amount, chamber_volume, new_chamber_volume)}


def new_bores(amount: Number, cam_bore_alignment: Number, cam_line_play: Number, new_cam_line_play: Number) -> Changes:
    """The cam bores of another casting: in line, and with a play that somebody must say."""
    return {
        "cam_bore_alignment": mixed(amount, cam_bore_alignment, 0.0 * amount),
        "cam_line_play": mixed(amount, cam_line_play, new_cam_line_play),
    }


OPERATIONS: tuple[Working, ...] = (
    Working("head_replace", "bank", head_replace, switch=True,
            also=(("valve", new_seats), ("chamber", new_chamber), ("cam", new_bores)),
            renews=("head_height", "head_flatness", "manifold_face_flatness", "cam_bore_alignment", "guide_bore",
                    "stem_guide_clearance", "seat_width", "seat_runout")),
)  # fmt: skip
