"""A geometry small enough to be reckoned in the head, for the tests of what works with any geometry."""

from math import sqrt

from witnessmark.engine.described import layout
from witnessmark.engine.law import Consequence
from witnessmark.engine.model import Model, model
from witnessmark.engine.operation import Working
from witnessmark.engine.quantity import FOUND, GIVEN, NEW, WORK, Quantity
from witnessmark.mechanics.law import require

FOUR = {"layout": "inline", "cylinders": "2", "valves": {"inl": ["f", "r"], "exh": "1"}, "gear": "bucket_shim"}


def sunk(seat_feed, face_ground):
    return seat_feed + sqrt(2) * face_ground


def height(stem_height, valve_sunk):
    return stem_height + valve_sunk


def lash(valve_lash, valve_sunk):
    require(valve_lash < 2, "valve_lash {lash:g} mm is no lash: was it read in thou?", lash=valve_lash)
    return valve_lash - valve_sunk


def pocket(valve_area, valve_sunk):
    return valve_area * valve_sunk


def volume(chamber_volume, chamber_area, skimmed, sunk_volume):
    return chamber_volume - chamber_area * skimmed + sunk_volume


def seat_cut(amount, seat_feed):
    return {"seat_feed": seat_feed + amount}


def face_grind(amount, face_ground):
    return {"face_ground": face_ground + amount}


def valve_replace(amount, stem_height, new_stem_height, face_ground):
    return {"stem_height": stem_height + amount * (new_stem_height - stem_height), "face_ground": face_ground * (1 - amount)}


def skim(amount, skimmed):
    return {"skimmed": skimmed + amount}


QUANTITIES = (
    Quantity("stem_height", "valve", "length", FOUND, "stem height"),
    Quantity("new_stem_height", "valve", "length", NEW, "stem height of a new valve"),
    Quantity("valve_lash", "valve", "length", FOUND, "valve lash"),
    Quantity("seat_feed", "valve", "length", WORK, "feed of the seat cutter"),
    Quantity("face_ground", "valve", "length", WORK, "metal ground off the face"),
    Quantity("valve_area", "valve", "area", GIVEN, "area of the valve head", usual=100.0, why="small"),
    Quantity("chamber_volume", "chamber", "volume", FOUND, "chamber volume"),
    Quantity("chamber_area", "bank", "area", GIVEN, "area of the chamber's mouth"),
    Quantity("skimmed", "bank", "length", WORK, "metal skimmed off"),
)
LAWS = (
    Consequence("chamber_volume", "chamber", volume, group="compression"),
    Consequence("sunk_volume", "chamber", total="pocket"),
    Consequence("pocket", "valve", pocket),
    Consequence("stem_height", "valve", height, group="valve"),
    Consequence("valve_lash", "valve", lash, group="gap"),
    Consequence("valve_sunk", "valve", sunk),
)
OPERATIONS = (
    Working("valve_replace", "valve", valve_replace, switch=True, renews=("stem_height",)),
    Working("seat_cut", "valve", seat_cut),
    Working("face_grind", "valve", face_grind),
    Working("skim", "bank", skim),
)


def small() -> Model:
    """The model of a two-cylinder head with three valves a cylinder."""
    return model(layout(FOUR), QUANTITIES, LAWS, OPERATIONS)
