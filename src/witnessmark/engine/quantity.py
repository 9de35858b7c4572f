"""What an engine's state is made of: named quantities along an axis.

A *found* quantity carries the id of a characteristic: it is what was read, or entered, before any work. A *given* one
is a fact of the design that no reading of a head shows: bore, rod, sprocket. *Work* is what has been done, nothing at
first. A *new* one is what a new part would bring; its id is "new." and the id that it would take the place of.
"""

from dataclasses import dataclass

FOUND, GIVEN, WORK, NEW = "found", "given", "work", "new"


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity of the state, in the unit inside (mm, N, N/mm, mm3, rad, 1).

    `usual` is taken where nobody said, and then marked as taken for granted with `why`; None: unknown, and whatever
    rests on it is unknown too. `dimension` is the word that the quantity room reads it by (length, volume, ...).
    """

    id: str
    axis: str
    dimension: str
    kind: str
    term: str
    usual: float | None = None
    why: str = ""
    gears: tuple[str, ...] = ()  # of which valve gears it is a quantity; () is of all
    drives: tuple[str, ...] = ()
    optional: bool = False  # known, it tells more; unknown, its laws do without it
    reads: tuple[str, str] | None = None  # the characteristic that tells it, and the end: least, most, "" as usual

    @property
    def unit(self) -> str:
        """Its unit inside."""
        return {"length": "mm", "angle_plane": "rad", "angle_crank": "rad", "angle_cam": "rad", "force": "N",
                "rate": "N/mm", "volume": "mm3", "ratio": "1", "area": "mm2"}[self.dimension]  # fmt: skip
