"""One door to the limit sheet."""

from witnessmark.limits import limit, read, sheet


def test_the_door_leads_to_the_limit_and_its_reader():
    assert sheet.read_sheet is read.read_sheet
    assert sheet.limit_for is limit.limit_for
