"""One door to the drawings of "where the gauge goes now", by the drawing's name in the catalogue."""

from collections.abc import Callable, Mapping

from witnessmark.draw.bolt import bolt
from witnessmark.draw.cam import cam, lift, stem_runout
from witnessmark.draw.face import FacePlan
from witnessmark.draw.guide import guide, rock
from witnessmark.draw.head_block import gasket, head, manifold
from witnessmark.draw.lash import lash
from witnessmark.draw.lobe import journal, lobe
from witnessmark.draw.moving import MOVING, MOVING_BY
from witnessmark.draw.scene import Ask, Scene, large, small
from witnessmark.draw.seat import seat
from witnessmark.draw.shape import Drawing
from witnessmark.draw.spring import spring
from witnessmark.draw.standing import STANDING, STANDING_BY
from witnessmark.draw.valve import installed_height, margin, stem, stem_height

SCENES: dict[str, Callable[[Ask], Scene]] = {
    "stem": stem, "stem_runout": stem_runout, "guide": guide, "rock": rock, "margin": margin, "seat": seat,
    "stem_height": stem_height, "spring": spring, "installed_height": installed_height, "lash": lash, "lobe": lobe,
    "journal": journal, "cam": cam, "lift": lift, "bolt": bolt, "gasket": gasket, "manifold": manifold, "head": head,
    **MOVING, **STANDING,
}  # fmt: skip
"""Every drawing that a characteristic may name."""

_VARIANTS = {"stem_runout": stem_runout, "stem_wobble": rock, "valve_lift": lift, **MOVING_BY, **STANDING_BY}
"""Characteristics that share a part's drawing by name but are measured in another setting."""


def where(
    drawing: str,
    station: str = "",
    values: Mapping[str, str] | None = None,
    *,
    characteristic: str = "",
    gear: str = "bucket_shim",
    face: FacePlan | None = None,
    strip: bool = False,
    verdict: str = "",
    limit_words: str = "",
    location: str = "",
) -> Drawing:
    """Where the gauge goes now, 350 x 560, or 236 x 106 with `strip`.

    `values` are the readings so far as they are shown, by station. `characteristic` picks the variant where one drawing
    serves several (a seat's width, runout, recession); `gear` that of the lash; `face` the head whose faces are drawn.
    `verdict` (within, out, close, so far) and `limit_words` ("least 5.940") are drawn under it, not in the strip.
    `location` is the place without its station ("chamber-3"), for scenes that show a whole row of them.
    Raises ValueError for a drawing that does not exist, naming those that do.
    """
    if drawing not in SCENES:
        raise ValueError(f"there is no drawing called {drawing!r}: name one of {', '.join(sorted(SCENES))}")
    ask = Ask(station, dict(values or {}), characteristic, gear, face or FacePlan(), verdict, limit_words, location)
    scene = _VARIANTS.get(characteristic, SCENES[drawing])(ask)
    return small(scene) if strip else large(scene, ask)
