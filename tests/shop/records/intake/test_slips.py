"""Slips are found by scan, by hand and by address; a misread one finds nothing."""

import pytest

from flueproof.shop.records.intake.asking.drafts import add_analyzer, begin_draft
from flueproof.shop.records.intake.slips import find_request, find_slip, new_slip, slip_address


@pytest.fixture
def asked(db, now):
    return begin_draft({"firm": "Quayside Air (invented)"}, "page", None, now)


@pytest.mark.parametrize("shape", ["{}", " {} ", "https://shop.example/box/{}", "https://shop.example/box/{}/"])
def test_a_slip_is_found_by_its_code_and_its_address(asked, shape):
    one = asked.analyzers.get()
    assert find_slip(shape.format(one.slip)) == one
    assert find_slip(shape.format(one.slip).lower()) == one
    assert find_slip(shape.format(one.slip).replace("-", "")) == one


def test_a_wrong_sign_and_other_texts_find_no_slip(asked):
    slip = asked.analyzers.get().slip
    wrong = slip[:-1] + ("A" if slip[-1] != "A" else "C")
    for text in (wrong, "", "/", "O5-20417", "J-2026-00042", "x" * 10_000, "<script>", slip + "2"):
        assert find_slip(text) is None


def test_a_request_is_found_by_its_code(asked):
    assert find_request(asked.code) == asked
    assert find_request(asked.code.lower().replace("-", "")) == asked
    assert find_request("R-222222X") is None
    assert find_request(asked.analyzers.get().slip) is None


def test_a_taken_code_is_drawn_again(asked):
    first = new_slip(lambda _most: 3)
    add_analyzer(asked, {}, None, draw=lambda _most: 3)
    drawn = iter([3] * 7 + [4] * 7)
    assert new_slip(lambda _most: next(drawn)) != first


def test_the_code_holds_the_shops_address_where_it_has_one(shop):
    assert slip_address("K7M4-P2RX", shop) == "K7M4-P2RX"
    shop.public_address = "https://bench.example/"
    assert slip_address("K7M4-P2RX", shop) == "https://bench.example/box/K7M4-P2RX"
