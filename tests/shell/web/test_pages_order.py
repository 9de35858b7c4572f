"""The order: its four papers on the page and as PDF, ordered or not yet."""

import pytest

from shell.web.bench import form
from shell.web.worked import shop_of
from witnessmark.desk.sheets.order import NAMES

shop = shop_of("wren")


def test_before_it_is_ordered_every_paper_says_so(shop):
    client, _ = shop
    page = client.get("/jobs/wren/order").text
    assert "Nothing is ordered yet" in page
    for title in ("Shop order", "Parts order", "Shims and adjusters", "Before and after"):
        assert title in page
    form(client, "/jobs/wren/plan/order", name="A")
    assert "Nothing is ordered yet" not in client.get("/jobs/wren/order").text


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_each_paper_is_a_pdf(shop, name, paper):
    client, _ = shop
    answer = client.get(f"/jobs/wren/order/{name}.pdf?paper={paper}")
    assert answer.status_code == 200 and answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF") and len(answer.content) > 5000


def test_a_paper_that_there_is_not_names_those_there_are(shop):
    client, _ = shop
    lost = client.get("/jobs/wren/order/invoice.pdf")
    assert lost.status_code == 404 and "shop-order" in lost.text
