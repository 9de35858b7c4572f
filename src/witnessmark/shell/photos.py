"""A photo from a camera or a file made ready to be kept: turned upright, made smaller, everything but the picture gone.

What goes   position, time, serial numbers, previews and remarks (EXIF, XMP, IPTC, comments); colours are brought to
            sRGB, so that no profile need be kept; a picture with transparent parts is laid on white.
What stays  a JPEG whose longer side has at most 1600 pixels. The same bytes in give the same bytes out.
Refused     PhotoFault, a sentence: what is no photo, what was cut off, what would unfold to more than 60 megapixels.
"""

import hashlib
import re
import struct
import threading
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image, Transpose

MOST_BYTES = 25_000_000
MOST_PIXELS = 60_000_000
LONGER_SIDE = 1600
QUALITY = 82
FORMATS = ("JPEG", "PNG", "WEBP")
MOST_SCANS = 100  # a camera's progressive JPEG has ten; each goes over the whole picture once more
MOST_MARKERS = 10_000

_ONE = threading.Lock()  # a picture unfolds to hundreds of megabytes, so that one at a time is unfolded
_APPLE = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"avif")  # brands of ISO/IEC 23008-12
_MARKER = re.compile(rb"\xff([^\x00\xff\xd0-\xd7])")  # not the stuffing and restarts of coded data
_BROKEN = (OSError, SyntaxError, ValueError, EOFError, struct.error, zlib.error, IndexError, KeyError, TypeError,
           OverflowError, AttributeError)  # what the reader of pictures raises on bytes that are no sound picture


class PhotoFault(ValueError):
    """Bytes that cannot be kept as a photo; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Prepared:
    """A photo ready to be kept. `hash` is the SHA-256 of `jpeg`, 64 hex digits; width and height in pixels."""

    jpeg: bytes
    hash: str
    width: int
    height: int


def prepare(data: bytes) -> Prepared:
    """Make a photo ready to be kept. Raises PhotoFault."""
    _look_at_size(data)
    _look_at_scans(data)
    with _ONE:
        picture = _small(data)
    out = BytesIO()
    picture.save(out, "JPEG", quality=QUALITY, optimize=True)
    jpeg = out.getvalue()
    return Prepared(jpeg, hashlib.sha256(jpeg).hexdigest(), picture.width, picture.height)


def _look_at_size(data: bytes) -> None:
    if not data:
        raise PhotoFault("the file is empty; take the photo once more")
    if len(data) > MOST_BYTES:
        raise PhotoFault(f"the file has {len(data) / 1e6:.0f} MB and a photo may have {MOST_BYTES // 1_000_000}; "
                         "send it in a smaller size")
    if data[4:8] == b"ftyp" and data[8:12] in _APPLE:
        raise PhotoFault("this is a HEIC or AVIF picture, which cannot be read here; set the camera to JPEG "
                         "(on some phones: most compatible), or send a copy as JPEG")


def _look_at_scans(data: bytes) -> None:
    """Refuse a JPEG of a few kilobytes that would keep the machine busy for hours (ISO/IEC 10918-1, annex B)."""
    place, scans, markers = 2, 0, 0
    while data.startswith(b"\xff\xd8") and (found := _MARKER.search(data, place)) and found[1] != b"\xd9":
        markers += 1
        scans += found[1] == b"\xda"
        if scans > MOST_SCANS or markers > MOST_MARKERS:
            raise PhotoFault(f"this JPEG is made of more than {MOST_SCANS} passes over its picture, which no camera "
                             "writes; save it anew and send that")
        place = found.end() + int.from_bytes(data[found.end():found.end() + 2], "big")


def _small(data: bytes) -> "Image":
    """The picture, upright, in sRGB, no larger than it is kept, and without anything that came with it."""
    from PIL import Image

    opened = _opened(data)
    turn = _turn(opened)
    try:
        _unfold(opened)
        shrunk = _sized(_in_srgb(_halved(opened)))
        upright = shrunk if turn is None else shrunk.transpose(turn)
        return Image.frombytes("RGB", upright.size, upright.tobytes())
    except MemoryError:
        raise PhotoFault("the picture is too large for the memory of this machine; send it in a smaller size") from None


def _unfold(opened: "Image") -> None:
    try:
        opened.draft("RGB", (LONGER_SIDE, LONGER_SIDE))  # a JPEG is unfolded to no more than is needed
        opened.load()
    except _BROKEN as bad:
        raise _damaged(bad) from None


def _damaged(bad: BaseException) -> PhotoFault:
    return PhotoFault(f"the picture is damaged or was cut off on its way ({_why(bad)}); send it once more")


def _opened(data: bytes) -> "Image":
    """The picture with its header read and nothing unfolded."""
    from PIL import Image, UnidentifiedImageError

    try:
        opened = Image.open(BytesIO(data), formats=FORMATS)
        width, height = opened.size
    except UnidentifiedImageError:
        raise PhotoFault("this is no photo that can be read; send a JPEG, PNG or WebP picture") from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _too_large("far more than 60 megapixels") from None
    except _BROKEN as bad:
        raise _damaged(bad) from None
    if width * height > MOST_PIXELS:
        raise _too_large(f"{width} by {height} pixels")
    return opened


def _too_large(what: str) -> PhotoFault:
    return PhotoFault(f"the picture unfolds to {what}, and {MOST_PIXELS // 1_000_000} megapixels are the most; "
                      "send it in a smaller size")


def _turn(opened: "Image") -> "Transpose | None":
    """How the picture must be turned to stand upright. Source: CIPA DC-008 (Exif), tag 0x0112."""
    from PIL.Image import Transpose as To

    turns: Mapping[int, Transpose] = {
        2: To.FLIP_LEFT_RIGHT, 3: To.ROTATE_180, 4: To.FLIP_TOP_BOTTOM, 5: To.TRANSPOSE,
        6: To.ROTATE_270, 7: To.TRANSVERSE, 8: To.ROTATE_90}
    try:
        said = opened.getexif().get(0x0112)
    except _BROKEN:
        return None  # what came with the picture is damaged; the picture itself may be sound, and stays as it lies
    return turns.get(said) if isinstance(said, int) else None


def _halved(picture: "Image") -> "Image":
    """The picture brought near its size in whole steps, so that what follows is quick; mixed in 8 bits per colour."""
    if picture.mode.startswith("I"):
        picture = picture.convert("I").point(lambda level: level / 256).convert("L")  # 16 bits of grey
    elif picture.mode in ("P", "1", "PA", "La", "RGBa"):
        see_through = picture.mode in ("PA", "La", "RGBa") or "transparency" in picture.info
        picture = _with_profile(picture.convert("RGBA" if see_through else "RGB"), picture)
    steps = max(picture.size) // (2 * LONGER_SIDE)
    return picture if steps < 2 else _with_profile(picture.reduce(steps), picture)


def _with_profile(picture: "Image", source: "Image") -> "Image":
    picture.info = {key: source.info[key] for key in ("icc_profile",) if key in source.info}
    return picture


def _in_srgb(picture: "Image") -> "Image":
    """The colours as sRGB; without a profile, or with one that cannot be used, they are taken for sRGB already."""
    from PIL import Image

    profile = picture.info.get("icc_profile")
    if "A" in picture.getbands():
        picture = picture.convert("RGBA")
        ground = Image.new("RGBA", picture.size, "white")
        ground.alpha_composite(picture)
        picture = ground.convert("RGB")
    if profile and picture.mode in ("RGB", "L", "CMYK"):
        return _converted(picture, profile)
    return picture.convert("RGB")


def _converted(picture: "Image", profile: bytes) -> "Image":
    from PIL import ImageCms

    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        found = ImageCms.profileToProfile(picture, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except (ImageCms.PyCMSError, *_BROKEN):
        found = None
    return picture.convert("RGB") if found is None else found


def _sized(picture: "Image") -> "Image":
    from PIL.Image import Resampling

    longer = max(picture.size)
    if longer <= LONGER_SIDE:
        return picture
    width, height = (max(1, round(side * LONGER_SIDE / longer)) for side in picture.size)
    return picture.resize((width, height), Resampling.LANCZOS, reducing_gap=3.0)


def _why(bad: BaseException) -> str:
    return (str(bad).splitlines() or [""])[0][:80] or type(bad).__name__
