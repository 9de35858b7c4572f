"""Where every key and value stands."""

from witnessmark.text.read import read

JOB = """\
format: witnessmark-job-1
readings:
  - {id: r1, place: inl-3f, raw: 5.950}
  - id: r2
    raw: "0.04 0.05"
    allowed: no
    note:
"""


def test_values_and_keys_have_places_counted_from_one(loader):
    document = read(JOB, "job.yaml")
    assert document.place(("readings", 0, "raw")) == (3, 34)
    assert document.place(("readings", 1, "raw")) == (5, 10)
    assert document.key_place(("readings", 1, "raw")) == (5, 5)
    assert document.place(("readings",)) == (3, 3)
    assert document.key_place(("readings",)) == (2, 1)


def test_a_missing_thing_has_the_place_of_its_nearest_parent(loader):
    document = read(JOB, "job.yaml")
    assert document.place(("readings", 1, "gauge")) == document.place(("readings", 1)) == (4, 5)
    assert document.key_place(("readings", 9, "gauge", "U")) == (3, 3)
    assert document.place(("nowhere",)) == (1, 1)


def test_columns_count_characters_not_bytes(loader):
    assert read("{µm: 1, b: 2}".encode(), "j").key_place(("b",)) == (1, 9)
