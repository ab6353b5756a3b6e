"""What a change would do, and that nothing of it is kept."""

import pytest

from flueproof.shop.records.models import DayOff, Shop
from flueproof.shop.records.promises.plan.effects import ImpossibleChangeError, effect_of
from shop.planned import MONDAY, give_hours, make_job, make_stations


@pytest.fixture
def owed(shop, people, owner):
    give_hours(people)
    make_stations()
    return make_job(owner, 1, promised_on=MONDAY.date())


def test_a_change_that_makes_a_promise_risky_names_it_and_is_taken_back(owed, people):
    def ill():
        DayOff.objects.create(person=people["signer"], first=MONDAY.date(), last=MONDAY.date())

    (risky,) = effect_of(ill, MONDAY)
    assert (risky.number, risky.promised) == (owed.number, MONDAY.date())
    assert risky.before < 0.1 < risky.after
    assert not DayOff.objects.exists()


def test_a_change_that_hurts_nobody_is_empty(owed):
    assert effect_of(lambda: None, MONDAY) == []


def test_a_change_after_which_there_is_no_hour_left_is_told(owed):
    def never():
        row = Shop.here()
        row.opens_at, row.closes_at = row.closes_at, row.opens_at
        row.save()

    with pytest.raises(ImpossibleChangeError, match="So nothing could be planned"):
        effect_of(never, MONDAY)
