"""Terms of a promise: days of the service, of the owner, and what the day means."""

import pytest

from flueproof.promise.clock.errors import BadTermsError
from flueproof.promise.clock.terms import Terms


def test_the_usual_days_are_five_and_two_more_for_a_repair():
    assert [Terms().business_days(service) for service in ("verify", "verify-adjust", "repair")] == [5, 5, 7]


def test_days_of_the_owner_stand_in_for_those_of_the_service_and_a_repair_adds():
    assert Terms(owner_days=3).business_days("verify") == 3
    assert Terms(owner_days=3).business_days("repair") == 5
    assert Terms(owner_days=0).business_days("verify") == 0


def test_days_on_the_road_count_only_if_the_promise_is_to_deliver():
    assert Terms(means="delivered", transit_days=2).business_days("verify") == 7
    assert Terms(means="ready", transit_days=2).business_days("verify") == 5


@pytest.mark.parametrize(
    ("bad", "words"),
    [
        ({"days": {"verify-adjust": -1}}, "-1 business days for verify-adjust"),
        ({"extra": {"repair": 999}}, "999 business days for repair"),
        ({"owner_days": 1000}, "for this owner: give 0 to 260"),
        ({"transit_days": -1}, "-1 business days for transit"),
        ({"means": "soon"}, "ready, delivered"),
        ({"service": "paint"}, "no days are set for service “paint”; set: verify"),
    ],
)
def test_bad_terms_are_refused(bad, words):
    with pytest.raises(BadTermsError, match=words):
        Terms(**bad)
