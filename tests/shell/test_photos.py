"""Photos: upright, small and bare; what is no photo, or would unfold without end, is refused with a sentence."""

import hashlib
import struct
import threading
import time
import tracemalloc
import zlib
from io import BytesIO

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms, PngImagePlugin

from witnessmark.shell import photos
from witnessmark.shell.photos import LONGER_SIDE, MOST_BYTES, PhotoFault, prepare

# What the reader of pictures finds odd in a damaged note of a camera it says as a warning; the photo is judged by its bytes.
pytestmark = pytest.mark.filterwarnings("ignore::UserWarning:PIL")


def saved(picture, format="JPEG", **more):
    out = BytesIO()
    picture.save(out, format, **more)
    return out.getvalue()


def picture(width=400, height=300, mode="RGB"):
    """Red on the left, blue on the right, with a bright corner at the top left; noise free."""
    made = Image.new("RGB", (width, height), (200, 30, 30))
    made.paste((30, 30, 200), (width // 2, 0, width, height))
    made.paste((250, 250, 250), (0, 0, width // 8, height // 8))
    return made.convert(mode)


def read(prepared):
    found = Image.open(BytesIO(prepared.jpeg))
    found.load()
    return found


def near(found, wanted, within=12):
    return all(abs(one - other) <= within for one, other in zip(found, wanted, strict=True))


def refused(data):
    with pytest.raises(PhotoFault) as told:
        prepare(data)
    words = str(told.value)
    assert not any(word in words.lower() for word in ("invalid", "error occurred", "failed", "please"))
    return words


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_a_photo_becomes_a_jpeg_known_by_its_bytes(format):
    found = prepare(saved(picture(), format))
    assert read(found).format == "JPEG"
    assert found.hash == hashlib.sha256(found.jpeg).hexdigest()
    assert (found.width, found.height) == read(found).size == (400, 300)
    assert near(read(found).getpixel((100, 200)), (200, 30, 30)) and near(read(found).getpixel((300, 200)), (30, 30, 200))


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_the_same_bytes_in_give_the_same_bytes_out(format):
    data = saved(picture(2000, 1500), format)
    assert prepare(data) == prepare(data)


@pytest.mark.parametrize(("size", "kept"), [
    ((4000, 3000), (1600, 1200)), ((3000, 4000), (1200, 1600)), ((1600, 1600), (1600, 1600)), ((1601, 3), (1600, 3)),
    ((9000, 1), (1600, 1)), ((1, 1), (1, 1)),
])
def test_the_longer_side_has_at_most_1600_pixels(size, kept):
    for format in ("JPEG", "PNG"):
        found = prepare(saved(picture(*size), format))
        assert (found.width, found.height) == kept


GPS = {1: "N", 2: (53.0, 33.0, 0.0), 3: "E", 4: (9.0, 59.0, 0.0)}


def exif(orientation=1):
    made = Image.Exif()
    made[0x0112], made[0x010F], made[0x9003], made[0x013B] = orientation, "Invented Camera", "2026:11:25 09:00:00", "A. Hand"
    made.get_ifd(0x8825).update(GPS)
    return made


def segments(jpeg):
    """The markers of a JPEG up to its scan, each with what stands in it."""
    found, place = [], 2
    while jpeg[place + 1] != 0xDA:
        length = struct.unpack(">H", jpeg[place + 2:place + 4])[0]
        found.append((jpeg[place + 1], jpeg[place + 4:place + 2 + length]))
        place += 2 + length
    return found


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_position_time_and_owner_are_left_behind(format):
    more = {"exif": exif(), "xmp": b"<x:xmpmeta>Harbour 53N</x:xmpmeta>"}
    if format == "JPEG":
        more["comment"] = b"Harbour 53N"
    if format == "PNG":
        info = PngImagePlugin.PngInfo()
        info.add_text("Comment", "Harbour 53N")
        more = {"exif": exif(), "pnginfo": info}
    data = saved(picture(), format, **more)
    assert Image.open(BytesIO(data)).getexif().get_ifd(0x8825)[1] == "N", "the photo for the test has a position"
    found = prepare(data)
    assert dict(read(found).getexif()) == {}
    kept = [marker for marker, _ in segments(found.jpeg)]
    assert set(kept) <= {0xE0, 0xDB, 0xC0, 0xC4}, "only the picture's own tables may stay"
    assert next(body for marker, body in segments(found.jpeg) if marker == 0xE0).startswith(b"JFIF\0")
    for trace in (b"Harbour", b"Invented", b"2026:11", b"Exif", b"xmp", b"Hand"):
        assert trace not in found.jpeg


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("format", ["JPEG", "WEBP"])
def test_a_photo_stands_upright_however_the_camera_was_held(format, orientation):
    """As the camera would store it: turned against the way in which its note says it must be turned."""
    against = {2: Image.Transpose.FLIP_LEFT_RIGHT, 3: Image.Transpose.ROTATE_180, 4: Image.Transpose.FLIP_TOP_BOTTOM,
               5: Image.Transpose.TRANSPOSE, 6: Image.Transpose.ROTATE_90, 7: Image.Transpose.TRANSVERSE,
               8: Image.Transpose.ROTATE_270}
    lying = picture().transpose(against[orientation]) if orientation in against else picture()
    found = prepare(saved(lying, format, exif=exif(orientation)))
    upright = read(found)
    assert upright.size == (400, 300)
    assert near(upright.getpixel((10, 10)), (250, 250, 250), 20)
    assert near(upright.getpixel((100, 200)), (200, 30, 30), 20)
    assert near(upright.getpixel((390, 290)), (30, 30, 200), 20)


def test_a_note_of_the_camera_that_is_damaged_does_not_cost_the_photo():
    data = bytearray(saved(picture(), exif=exif(6)))
    start = data.index(b"Exif\0\0") + 6
    data[start:start + 40] = b"\xff" * 40
    assert prepare(bytes(data)).width == 400


def test_colours_of_a_wider_profile_come_out_as_srgb():
    """The profile of the picture says that its red and blue are exchanged... so they must come out exchanged."""
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    plain = saved(picture(), icc_profile=lab)
    assert near(read(prepare(plain)).getpixel((100, 200)), (200, 30, 30))
    tags = bytearray(lab)
    red, blue = tags.index(b"rXYZ"), tags.index(b"bXYZ")
    tags[red:red + 4], tags[blue:blue + 4] = b"bXYZ", b"rXYZ"
    turned = prepare(saved(picture(), icc_profile=bytes(tags)))
    assert near(read(turned).getpixel((100, 200)), (30, 30, 200), 25)
    assert "icc_profile" not in read(turned).info


@pytest.mark.parametrize("profile", [b"no profile", b"", b"\0" * 200])
def test_a_profile_that_cannot_be_used_is_left_aside(profile):
    assert near(read(prepare(saved(picture(), icc_profile=profile))).getpixel((100, 200)), (200, 30, 30))


@pytest.mark.parametrize(("mode", "format"), [
    ("L", "JPEG"), ("CMYK", "JPEG"), ("1", "PNG"), ("P", "PNG"), ("L", "PNG"), ("LA", "PNG"), ("RGBA", "PNG"),
    ("I;16", "PNG"), ("RGBA", "WEBP"),
])
@pytest.mark.parametrize("size", [(400, 300), (7000, 40)])
def test_every_way_of_mixing_colours_is_read(mode, format, size):
    made = picture(*size).convert("L").convert("I").point(lambda level: level * 256) if mode.startswith("I") else picture(*size)
    found = read(prepare(saved(made.convert(mode), format)))
    assert found.mode == "RGB"
    bright = found.convert("L")
    assert bright.getpixel((found.width // 16, 1)) > bright.getpixel((found.width // 4, found.height - 1))


def test_what_is_transparent_lies_on_white():
    made = Image.new("RGBA", (20, 20), (255, 0, 0, 0))
    assert near(read(prepare(saved(made, "PNG"))).getpixel((10, 10)), (255, 255, 255))
    pale = Image.new("P", (20, 20), 0)
    pale.putpalette([255, 0, 0] + [0] * 765)
    assert near(read(prepare(saved(pale, "PNG", transparency=0))).getpixel((10, 10)), (255, 255, 255))


@pytest.mark.parametrize("format", ["PNG", "WEBP"])
def test_of_a_moving_picture_the_first_frame_is_kept(format):
    red, blue = (Image.new("RGB", (40, 30), colour) for colour in ("red", "blue"))
    found = prepare(saved(red, format, save_all=True, append_images=[blue], duration=100))
    assert near(read(found).getpixel((20, 15)), (255, 0, 0))


def test_a_file_that_is_no_photo_is_refused():
    for data in (b"a letter", b"%PDF-1.7", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"<svg></svg>", b"\0" * 500,
                 saved(picture(), "GIF"), saved(picture(), "BMP"), saved(picture(), "TIFF")):
        assert "send" in refused(data)
    assert "the file is empty" in refused(b"")


def test_a_heic_picture_is_refused_with_what_to_set_on_the_camera():
    assert "set the camera to JPEG" in refused(b"\0\0\0\x18ftypheic" + b"\0" * 100)


def test_a_photo_that_was_cut_off_is_refused():
    for format in ("JPEG", "PNG", "WEBP"):
        data = saved(picture(2000, 1500).effect_spread(40), format)
        assert "cut off" in refused(data[:len(data) // 2])


def test_a_file_of_a_hundred_megabytes_is_refused_before_it_is_read():
    data = saved(picture()) + bytes(100_000_000)
    tracemalloc.start()
    assert "100 MB" in refused(data)
    assert tracemalloc.get_traced_memory()[1] < 1_000_000
    tracemalloc.stop()
    assert MOST_BYTES == 25_000_000


def chunk(kind, body):
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def bomb(width, height, *more):
    """A small file that says it is a large picture."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1_000_000), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + b"".join(more) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(7_750, 7_750), (9_000, 9_000), (20_000, 20_000), (2**31 - 1, 2**31 - 1), (60_000_001, 1)])
def test_a_picture_that_would_unfold_without_end_is_refused_unopened(size):
    tracemalloc.start()
    assert "60 megapixels" in refused(bomb(*size))
    assert tracemalloc.get_traced_memory()[1] < 3_000_000
    tracemalloc.stop()


def test_a_remark_that_would_unfold_without_end_is_refused():
    remark = chunk(b"zTXt", b"Comment\0\0" + zlib.compress(bytes(100_000_000), 9))
    assert refused(bomb(100, 100, remark))


@pytest.mark.parametrize(("height", "width"), [(6000, 9000), (65500, 65500)])
def test_a_jpeg_that_says_it_is_larger_than_it_is_costs_no_more_than_a_photo(height, width):
    data = bytearray(saved(picture()))
    place = data.index(b"\xff\xc0") + 5
    data[place:place + 4] = struct.pack(">HH", height, width)
    if height * width > 60_000_000:
        assert "60 megapixels" in refused(bytes(data))
    else:
        assert prepare(bytes(data)).width == 1600


def test_a_jpeg_that_goes_over_its_picture_again_and_again_is_refused_unopened():
    """31 bytes for one more pass over the whole picture: 25 MB of them would take hours."""
    whole = saved(Image.new("RGB", (3000, 2000), "grey"), progressive=True)
    again = whole[whole.rindex(b"\xff\xda"):-2]
    assert prepare(whole).width == 1600
    assert prepare(whole[:-2] + again * 20 + b"\xff\xd9").width == 1600
    begun = time.perf_counter()
    assert "passes over its picture" in refused(whole[:-2] + again * (20_000_000 // len(again)) + b"\xff\xd9")
    assert "passes over its picture" in refused(b"\xff\xd8" + b"\xff\x01\0\0" * 5_000_000)
    assert time.perf_counter() - begun < 1


def test_what_lies_behind_the_picture_does_not_count_as_passes():
    """A telephone may hang a film behind its photo."""
    assert prepare(saved(picture()) + b"\xff\xda" * 100_000).width == 400
    assert prepare(saved(picture(), exif=b"Exif\0\0" + b"\xff\xda" * 30_000)).width == 400


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
@settings(max_examples=120, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_a_photo_damaged_anywhere_is_a_photo_or_a_sentence(format, data):
    whole = bytearray(saved(picture(60, 40), format, exif=exif(6)))
    for _ in range(data.draw(st.integers(1, 6))):
        place = data.draw(st.integers(0, len(whole) - 1))
        whole[place] = data.draw(st.integers(0, 255))
    cut = data.draw(st.just(len(whole)) | st.integers(0, len(whole)))
    try:
        found = prepare(bytes(whole[:cut]))
    except PhotoFault as told:
        assert str(told)
    else:
        assert read(found).size == (found.width, found.height)
        assert max(read(found).size) <= LONGER_SIDE


@given(st.binary(max_size=300))
def test_any_bytes_are_a_photo_or_a_sentence(data):
    with pytest.raises(PhotoFault):
        prepare(data)


def test_many_at_once_give_what_one_gives(monkeypatch):
    """Only one is unfolded at a time, so that ten large ones do not need the memory of ten."""
    inside, most = [], []
    small = photos._small

    def counted(data):
        inside.append(1)
        most.append(len(inside))
        try:
            return small(data)
        finally:
            inside.pop()

    monkeypatch.setattr(photos, "_small", counted)
    data = [saved(picture(900 + number, 700)) for number in range(6)]
    found = {}
    threads = [threading.Thread(target=lambda n=n: found.update({n: prepare(data[n])})) for n in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert max(most) == 1
    assert [found[n].width for n in range(6)] == [900 + n for n in range(6)]


def test_a_photo_of_two_pictures_gives_the_first():
    """As some telephones save it: one file, a second picture behind the first."""
    data = saved(picture(), "MPO", save_all=True, append_images=[Image.new("RGB", (400, 300), "green")])
    assert near(read(prepare(data)).getpixel((100, 200)), (200, 30, 30))
