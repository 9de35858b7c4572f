"""Cuts as they are written on the bench, and what is said of those that cannot be meant."""

import pytest

from witnessmark.desk.bench import Refused
from witnessmark.desk.cuts import cuts, read_cut
from witnessmark.desk.state import state
from witnessmark.record.replay import replay
from witnessmark.shell.demo import demo_events
from witnessmark.shell.resources import catalogue


@pytest.fixture(scope="module")
def tern():
    return state(replay(demo_events("tern")), catalogue())


@pytest.fixture(scope="module")
def egret():
    return state(replay(demo_events("egret")), catalogue())


def test_a_cut_says_what_where_and_how_much(tern):
    (cut,) = read_cut(tern, "seat_cut@inl-3f=0.20mm")
    assert (cut.operation, cut.location, cut.amount, cut.unit) == ("seat_cut", "inl-3f", pytest.approx(0.20), "mm")


@pytest.mark.parametrize(("text", "amount"), [("0.010in", 0.254), ("10 thou", 0.254), ("0,25 mm", 0.25), ("250 µm", 0.25)])
def test_units_are_read_as_everywhere(tern, text, amount):
    assert read_cut(tern, f"seat_cut@inl-3f={text}")[0].amount == pytest.approx(amount)


def test_without_a_unit_the_job_speaks(tern, egret):
    assert read_cut(tern, "seat_cut@inl-3f=0.2")[0].amount == pytest.approx(0.2)
    assert read_cut(egret, "seat_cut@inl-3=0.008")[0].amount == pytest.approx(0.2032)


@pytest.mark.parametrize(("where", "number"), [("all", 16), ("inl", 8), ("exh", 8), ("exh-4r", 1)])
def test_one_word_stands_for_many_places(tern, where, number):
    assert len(read_cut(tern, f"seat_cut@{where}=0.1mm")) == number


def test_a_part_has_no_amount(tern):
    assert read_cut(tern, "valve_replace@inl-3f")[0].amount == 1.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("seat_cut", "is no cut: write OPERATION@LOCATION=AMOUNT"),
        ("seat_cut@=0.2", "is no cut"),
        ("seatcut@inl-3f=0.2mm", "did you mean 'seat_cut'"),
        ("seat_cut@inl-9f=0.2mm", "is not done at 'inl-9f'"),
        ("seat_cut@inl-3f", "needs an amount"),
        ("seat_cut@inl-3f=-0.2mm", "an amount is above nothing"),
        ("seat_cut@inl-3f=abc", "cannot be read: write digits"),
        ("seat_cut@inl-3f=5in", "was the unit meant otherwise"),
        ("valve_replace@inl-3f=2", "has no amount"),
        ("lash_shim@inl-3f=0mm", "an amount is above nothing"),
        ("crack_repair@chamber-1", "changes nothing here that the geometry knows"),
    ],
)
def test_what_cannot_be_meant_says_what_to_write(tern, text, words):
    with pytest.raises(Refused, match=words):
        read_cut(tern, text)


def test_entries_of_a_job_are_read_alike(tern):
    found = cuts(tern, [{"operation": "skim", "place": "head", "amount": "0.10", "unit": "mm"},
                        {"operation": "seat_cut", "place": "inl", "amount": "0.004", "unit": "in"}])  # fmt: skip
    assert len(found) == 9
    assert found[1].amount == pytest.approx(0.1016)
    assert found[1].raw == "0.004"


def test_a_part_put_in_by_its_size_may_be_longer_than_any_cut_is_deep(egret):
    for text, inside in (("pushrod_replace@inl-1=7.796in", 198.0184), ("pushrod_replace@inl-1=198.02mm", 198.02)):
        (cut,) = read_cut(egret, text)
        assert cut.amount == pytest.approx(inside)
    with pytest.raises(Refused, match="was the unit meant otherwise"):
        read_cut(egret, "pushrod_replace@inl-1=198in")
