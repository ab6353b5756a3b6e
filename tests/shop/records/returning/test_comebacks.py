"""What comes back soon is offered as a comeback, and counted."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.moving import MoveRefusedError
from flueproof.shop.records.models import Analyzer, Job
from flueproof.shop.records.returning.comebacks import (
    comeback_days,
    first_pass,
    first_stay_of,
    link_comeback,
    no_comeback,
    wilson,
)


@pytest.fixture
def stays(owner, analyzer, now):
    """Return a function days -> (first stay, the next that begins so many days after it)."""

    def make(days, state="returned"):
        first = Job.objects.create(
            number=f"J-1-{days}",
            owner=owner,
            analyzer=analyzer,
            state=state,
            opened_at=now - dt.timedelta(days=days + 5),
            closed_at=now - dt.timedelta(days=days),
        )
        second = Job.objects.create(
            number=f"J-2-{days}", owner=owner, analyzer=analyzer, state="arrived", opened_at=now
        )
        return first, second

    return make


def test_a_stay_soon_after_the_last_is_offered(stays):
    first, second = stays(10)
    assert first_stay_of(second) == first


@pytest.mark.parametrize(("days", "state"), [(61, "returned"), (10, "dropped")])
def test_a_stay_long_after_or_after_a_dropped_job_is_not(stays, days, state):
    assert first_stay_of(stays(days, state)[1]) is None


@pytest.mark.parametrize(("setting", "offered"), [(0, False), (9, False), (10, True), (365, True)])
def test_how_soon_is_the_shop_s_own_setting(stays, shop, setting, offered):
    shop.comeback_days = setting
    shop.save()
    assert comeback_days() == setting
    first, second = stays(10)
    assert (first_stay_of(second) == first) is offered


def test_as_shipped_it_is_sixty_days(shop):
    assert comeback_days() == 60


def test_linked_once_and_offered_no_more(stays, people, now):
    first, second = stays(10)
    for _ in range(2):
        second = link_comeback(second, first, people["counter"], now)
    assert second.first_job == first
    assert first_stay_of(second) is None
    assert second.moments.filter(what="comeback").count() == 1


def test_what_is_said_to_be_none_is_offered_no_more_and_needs_a_reason(stays, people, now):
    _, second = stays(10)
    with pytest.raises(MoveRefusedError):
        no_comeback(second, "", people["counter"], now)
    no_comeback(second, "dropped from a roof", people["counter"], now)
    assert first_stay_of(second) is None


def test_another_analyzers_job_or_an_open_one_is_no_first_stay(stays, owner, people, now):
    first, second = stays(10)
    unit = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="ANOTHER")
    stranger = Job.objects.create(number="J-9", owner=owner, analyzer=unit, state="arrived", opened_at=now)
    with pytest.raises(MoveRefusedError):
        link_comeback(stranger, first, people["counter"], now)
    with pytest.raises(MoveRefusedError):
        link_comeback(second, second, people["counter"], now)


def test_the_yield_counts_first_jobs_that_came_back(stays, people, now, owner, analyzer):
    first, second = stays(10)
    day = now.date()
    for number in range(8):
        Job.objects.create(
            number=f"J-G-{number}", owner=owner, analyzer=analyzer, state="returned", opened_at=now, closed_at=now
        )
    before = first_pass(day - dt.timedelta(days=30), day, now)
    link_comeback(second, first, people["counter"], now)
    after = first_pass(day - dt.timedelta(days=30), day, now)
    assert (before.returned, before.share) == (9, 1.0)
    assert after.share == pytest.approx(8 / 9)
    assert after.came_back == [(first, second)]
    assert after.still_open == 9
    assert first_pass(day + dt.timedelta(days=1), day + dt.timedelta(days=1), now).share is None


def test_the_interval_is_wilsons():
    """Against Newcombe 1998, table I: 81 of 263 gives 0.2553 to 0.3662; 0 of 20 gives 0 to 0.1611 (from memory)."""
    assert wilson(81, 263) == pytest.approx((0.2553, 0.3662), abs=5e-5)
    assert wilson(0, 20) == pytest.approx((0.0, 0.1611), abs=5e-5)
