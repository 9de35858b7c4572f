"""Photos through pages and API: made smaller, position stripped, kept once, marked on the drawing, taken back."""

import io

import pytest
from PIL import Image

from shell.web.bench import bench, form
from witnessmark.shell.demo import demo_events

JOB = "PH-1"
HERE = {"Origin": "http://127.0.0.1:8620"}


@pytest.fixture
def shop(tmp_path):
    with bench(tmp_path, jobs=False) as (client, store):
        store.create(JOB, created_at="2026-11-25T08:00:00Z", title="Wren", events=demo_events("wren"))
        yield client, store


def picture(kind="JPEG", size=(2400, 1200), colour=(90, 60, 40), exif=True):
    out, options = io.BytesIO(), {}
    if exif:
        tags = Image.Exif()
        tags[0x010F] = "a camera"
        tags.get_ifd(0x8825)[1] = "N"
        options["exif"] = tags
    Image.new("RGB", size, colour).save(out, kind, **options)
    return out.getvalue()


def send(client, data, name="bench.jpg", **fields):
    return client.post(f"/api/jobs/{JOB}/photo", files={"file": (name, data, "image/jpeg")}, data=fields, headers=HERE)


def test_a_photo_is_made_smaller_without_position_and_shown_on_its_sheet(shop):
    client, store = shop
    answer = send(client, picture(), characteristic="head_cracks", place="chamber-1", note="bridge, lamp from the left")
    assert answer.status_code == 200
    (photo,) = store.job(JOB).photos
    assert max(photo.width, photo.height) == 1600
    got = client.get(f"/jobs/{JOB}/photos/{photo.photo}")
    assert got.headers["content-type"] == "image/jpeg" and "immutable" in got.headers["cache-control"]
    assert got.headers["x-content-type-options"] == "nosniff"
    assert not dict(Image.open(io.BytesIO(got.content)).getexif())
    page = client.get(f"/jobs/{JOB}/photos").text
    assert photo.photo in page and "bridge, lamp from the left" in page and "Chamber 1" in page


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_other_kinds_of_picture_become_jpeg(shop, kind):
    client, store = shop
    assert send(client, picture(kind, exif=False)).status_code == 200
    assert store.photos.get(store.job(JOB).photos[-1].photo)[:2] == b"\xff\xd8"


def test_the_same_photo_from_two_devices_is_one_file_and_two_entries(shop):
    client, store = shop
    data = picture()
    assert send(client, data, device="one", id="ph-one").status_code == 200
    assert send(client, data, device="two", id="ph-two").status_code == 200
    assert send(client, data, device="two", id="ph-two").json()["again"] is True
    photos = store.job(JOB).photos
    assert len(photos) == 2 and len({one.photo for one in photos}) == 1


@pytest.mark.parametrize(("data", "status"), [
    (b"this is a text that somebody renamed", 422),
    (picture()[:900], 422),
    (b"", 422),
    (b"\xff\xd8" + b"\0" * 25_000_100, 413),
])  # fmt: skip
def test_what_is_no_photo_is_refused_with_a_sentence_and_nothing_is_kept(shop, data, status):
    client, store = shop
    answer = send(client, data)
    assert answer.status_code == status and answer.json()["what"].endswith(".")
    assert not store.job(JOB).photos and not list(store.photos.names())


def test_a_hundred_megabytes_are_refused_by_their_length_before_they_are_read(shop):
    client, _ = shop
    answer = client.post(f"/api/jobs/{JOB}/photo", content=b"x", headers={
        **HERE, "content-type": "multipart/form-data; boundary=b", "content-length": "104857600"})  # fmt: skip
    assert answer.status_code == 413 and "25 MB" in answer.json()["what"]


def test_a_picture_that_unfolds_into_far_more_is_refused(shop):
    client, store = shop
    bomb = picture("PNG", (12_000, 9_000), exif=False)
    answer = send(client, bomb, "bomb.png")
    assert answer.status_code == 422 and not store.job(JOB).photos


def test_a_place_that_is_none_is_told_before_the_picture_is_unfolded(shop):
    client, store = shop
    answer = send(client, picture(), place="somewhere")
    assert answer.status_code == 422 and "names no place" in answer.json()["what"]
    assert not list(store.photos.names())


def test_a_mark_on_the_drawing_is_stepped_by_numbers_and_the_photo_taken_back(shop):
    client, store = shop
    send(client, picture(), characteristic="head_cracks", place="chamber-1")
    event = store.job(JOB).photos[0].event
    assert form(client, f"/jobs/{JOB}/photos/{event}/mark", left="43", top="61", note="here").status_code == 303
    (marked,) = store.job(JOB).photos
    assert (marked.mark["x"], marked.mark["y"], marked.note) == ("0.43", "0.61", "here")
    assert form(client, f"/jobs/{JOB}/photos/{marked.event}/mark", left="143", top="1").status_code == 422
    assert form(client, f"/jobs/{JOB}/photos/{marked.event}/back").status_code == 303
    assert not store.job(JOB).photos


def test_a_photo_is_sent_by_the_form_alone(shop):
    client, store = shop
    answer = client.post(f"/jobs/{JOB}/photos", files={"file": ("b.jpg", picture(), "image/jpeg")},
                         data={"note": "whole head"}, headers=HERE)  # fmt: skip
    assert answer.status_code == 303 and store.job(JOB).photos[0].note == "whole head"
    bad = client.post(f"/jobs/{JOB}/photos", files={"file": ("b.jpg", b"nothing", "image/jpeg")}, data={"note": "n"}, headers=HERE)
    assert bad.status_code == 422 and 'value="n"' in bad.text


def test_a_photo_of_another_job_is_not_shown_here(shop):
    client, _ = shop
    assert client.get(f"/jobs/{JOB}/photos/{'a' * 64}").status_code == 404
