"""The limit sheet worked on entry by entry: typed, changed, removed, checked, copied, each on what was seen."""

import pytest

from shell.web.shop import JOB, Shop
from witnessmark.desk import limits
from witnessmark.desk.bench import Refused
from witnessmark.desk.limits import Key, Typed


@pytest.fixture
def shop(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job()
    yield shop
    shop.store.close()


def typed(shop, key, was=None, seen="", **blanks):
    shop.keep(limits.type_entry(shop.state(), shop.stamp(), Typed(key, **blanks), was, seen))


def test_the_first_limit_begins_a_sheet_and_its_digits_stay(tmp_path):
    shop = Shop(tmp_path)
    shop.open_job(limits="")
    typed(shop, Key("stem_diameter", "inl"), low="0.2340", unit="in", page="12")
    (limit,) = shop.state().sheet.limits
    assert (limit.low_text, limit.unit, limit.page, limit.applies.for_) == ("0.2340", "in", "12", "inl")
    assert limit.low == pytest.approx(5.9436)
    shop.store.close()


@pytest.mark.parametrize(("said", "unit", "low"), [
    ("0.2345 in", "in", 5.9563), ("2.5 thou", "thou", 0.0635), ("5.940", "mm", 5.94), ("1 5/8 in", "in", 41.275),
])  # fmt: skip
def test_a_value_brings_its_own_unit(shop, said, unit, low):
    typed(shop, Key("guide_height"), low=said, unit="mm")
    limit = next(one for one in shop.state().sheet.limits if one.characteristic == "guide_height")
    assert (limit.unit, limit.low) == (unit, pytest.approx(low))


def test_a_changed_entry_leaves_the_rest_of_the_text_as_it_was(shop):
    before = shop.store.job(JOB).limits.text
    key = Key("stem_diameter", "inl", stations="worst")
    typed(shop, key, key, low="5.930", new_low="5.965", new_high="5.980", unit="mm", page="41")
    assert shop.store.job(JOB).limits.text == before.replace("5.940", "5.930").replace('page: "41"', 'page: "41"')


def test_the_places_of_an_entry_may_be_changed(shop):
    key = Key("stem_diameter", "inl", stations="worst")
    typed(shop, Key("stem_diameter", "", "", "inl-3f", "worst"), key, low="5.930", unit="mm")
    held = limits.entries_now(shop.state())
    assert key not in held and Key("stem_diameter", "", "", "inl-3f", "worst") in held


def test_a_second_limit_for_the_same_places_is_told(shop):
    with pytest.raises(Refused, match="stands already"):
        typed(shop, Key("head_flatness"), high="0.04", unit="mm")


@pytest.mark.parametrize(("blanks", "words", "path"), [
    ({"low": "O.5"}, "No digits", "service.low"), ({}, "no limit stands", ""),
    ({"low": "2", "high": "1"}, "exchanged", "service.low"), ({"low": "2", "unit": "N"}, "measures a force", "unit"),
    ({"low": "2", "new_low": "1"}, "below the service limit", "new.low"),
])  # fmt: skip
def test_a_fault_is_told_with_its_place_and_nothing_is_kept(shop, blanks, words, path):
    seq = shop.store.job(JOB).seq
    with pytest.raises(Refused, match=words) as told:
        typed(shop, Key("margin"), **{"unit": "mm", **blanks})
    assert told.value.faults and told.value.faults[0].path.endswith(path)
    assert shop.store.job(JOB).seq == seq


def test_two_devices_on_one_entry_are_told_and_two_on_different_ones_are_not(shop):
    key, other = Key("head_flatness"), Key("stem_diameter", "exh", stations="worst")
    seen = {one: limits.mark_of(limits.entries_now(shop.state())[one]) for one in (key, other)}
    typed(shop, key, key, seen[key], high="0.04", unit="mm")
    with pytest.raises(limits.Stale, match="another device"):
        typed(shop, key, key, seen[key], high="0.03", unit="mm")
    typed(shop, other, other, seen[other], low="5.920", unit="mm")
    assert {one.high_text or one.low_text for one in shop.state().sheet.limits} >= {"0.04", "5.920"}
    with pytest.raises(limits.Stale):
        shop.keep(limits.remove_entry(shop.state(), shop.stamp(), key, seen[key]))


def test_a_copy_waits_to_be_checked_entry_by_entry_by_a_person_with_a_name(shop):
    text = shop.store.job(JOB).limits.text
    with pytest.raises(Refused, match="in its place"):
        limits.copy_sheet(shop.state(), shop.stamp(), text, "job HL-0140", "TN-4")
    shop.keep(limits.copy_sheet(shop.state(), shop.stamp(), text, "job HL-0140", "TN-4", True))
    sheet = shop.state().sheet
    assert (sheet.name, sheet.copied_from) == ("TN-4", "job HL-0140, sheet TN-3")
    assert all(limit.to_check for limit in sheet.limits)
    nobody = limits.Stamp("x", "2026-11-24T10:42:18+00:00")
    with pytest.raises(Refused, match="without a name"):
        limits.check_entry(shop.state(), nobody, Key("head_flatness"))
    shop.keep(limits.check_entry(shop.state(), shop.stamp(), Key("head_flatness"), "41"))
    waiting = {one.characteristic: one.to_check for one in shop.state().sheet.limits}
    assert waiting == {"stem_diameter": True, "head_flatness": False}
    assert "held against the document, page 41, by J. M." in shop.store.job(JOB).notes[-1].text
    shop.keep(limits.check_all(shop.state(), shop.stamp()))
    assert not any(one.to_check for one in shop.state().sheet.limits)
    with pytest.raises(Refused, match="no limit of this sheet is waiting"):
        limits.check_all(shop.state(), shop.stamp())


def test_what_the_book_allows_is_entered_changed_and_taken_out(shop):
    shop.keep(limits.allow(shop.state(), shop.stamp(), "skim", "up to", "0.008", "in", "40"))
    assert shop.state().sheet.allowed["skim"].most == pytest.approx(0.2032)
    with pytest.raises(Refused, match="up to"):
        limits.allow(shop.state(), shop.stamp(), "skim", "up to", "", "in")
    shop.keep(limits.allow(shop.state(), shop.stamp(), "skim", "no"))
    shop.keep(limits.allow(shop.state(), shop.stamp(), "skim", ""))
    assert "skim" not in shop.state().sheet.allowed


def test_answers_of_a_look_are_ticked(shop):
    typed(shop, Key("head_cracks"), accept=("none",), page="3")
    limit = next(one for one in shop.state().sheet.limits if one.characteristic == "head_cracks")
    assert (limit.accept, limit.unit) == (("none",), "")
