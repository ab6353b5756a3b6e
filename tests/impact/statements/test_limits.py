"""Limits are the owner's; offered ones carry their source and are never a default."""

import json

import pytest

from flueproof.impact.correcting.corrected import QUANTITIES
from flueproof.impact.errors import LimitError
from flueproof.impact.statements.limits import NAMES, UNITS, Limit, limit_from_dict, offered_limits
from flueproof.impact.statements.wording import limit_in_words


def test_every_offered_limit_names_source_edition_and_says_to_look_at_the_local_code():
    for limit in offered_limits().values():
        assert limit.source
        assert limit.edition
        assert "Check your local code" in limit.note
        assert limit.source in limit_in_words(limit)


def test_every_quantity_has_name_and_unit():
    assert set(UNITS) == set(NAMES) == set(QUANTITIES)


def test_a_limit_goes_through_json_and_back():
    limit = Limit("ours", "co_ppm", "at-most", 100.0, edition="2024")
    assert limit_from_dict(json.loads(json.dumps(limit.as_dict()))) == limit


@pytest.mark.parametrize(("change", "match"), [
    ({"quantity": "price"}, "no quantity"),
    ({"comparison": "below"}, "at-most, at-least"),
    ({"value": float("nan")}, "no number"),
    ({"value": "100"}, "no number"),
    ({"value": True}, "no number"),
    ({"name": " "}, "needs a name"),
    ({"unit": "degF"}, "give the value in ppm"),
    ({"colour": "red"}, "unknown key 'colour'"),
])  # fmt: skip
def test_a_limit_that_nothing_can_be_compared_with_is_refused(change, match):
    good = Limit("ours", "co_ppm", "at-most", 100.0).as_dict()
    with pytest.raises(LimitError, match=match):
        limit_from_dict(good | change)


def test_a_limit_that_lacks_something_says_what():
    with pytest.raises(LimitError, match="comparison, value"):
        limit_from_dict({"name": "x", "quantity": "co_ppm"})
