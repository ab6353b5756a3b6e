"""A Monday at nine on the Promises page, with people, hours, stations and three jobs."""

import pytest

from flueproof.shop.records.models import Numbering
from shop.planned import MONDAY, give_hours, make_job, make_stations


@pytest.fixture(autouse=True)
def monday(monkeypatch):
    """It is Monday, nine o'clock, whenever a view asks."""
    monkeypatch.setattr("django.utils.timezone.now", lambda: MONDAY)
    return MONDAY


@pytest.fixture
def numbers_go_on(db):
    """New jobs are numbered after those that a test made with numbers of their own."""
    Numbering.objects.create(prefix="J", year=MONDAY.year, last=500)


@pytest.fixture
def bench(shop, people, owner, monday):
    """Two people, two stations, three jobs."""
    give_hours(people)
    make_stations()
    return [make_job(owner, number) for number in (1, 2, 3)]


@pytest.fixture
def full(shop, people, owner, monday):
    """As many jobs promised for today as can be done, and one that is not promised for long."""
    give_hours(people)
    make_stations()
    for number in range(1, 11):
        make_job(owner, number, promised_on=MONDAY.date())
    return make_job(owner, 99)
