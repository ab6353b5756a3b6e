"""The terms of a promise: the shop's days, an owner's own, and what was kept with the first promise."""

import datetime as dt

from flueproof.shop.records.models import ClockEvent
from flueproof.shop.records.promises.terms import as_terms, terms_of, terms_today

NOON = dt.datetime(2026, 11, 30, 17, 0, tzinfo=dt.UTC)


def test_the_usual_terms_are_five_days_and_two_more_for_a_repair(shop, job):
    terms = as_terms(terms_today(job))
    assert [terms.business_days(each) for each in ("verify", "verify-adjust", "call-first", "repair")] == [5, 5, 5, 7]


def test_an_owners_own_days_take_the_place_of_the_shops(shop, job, owner):
    owner.promise_days = 0
    terms = as_terms(terms_today(job))
    assert (terms.business_days("verify"), terms.business_days("repair")) == (0, 2)


def test_numbers_that_cannot_be_meant_are_brought_into_what_the_clock_counts(shop, job):
    shop.promised_days = {"verify": 9999, "repair": 1, "repair-extra": 4}
    shop.save()
    terms = as_terms(terms_today(job))
    assert (terms.business_days("verify"), terms.business_days("repair")) == (260, 1)
    assert terms.business_days("call-first") == 5


def test_terms_kept_with_the_first_promise_count_and_not_those_of_today(shop, job):
    kept = terms_today(job) | {"means": "delivered", "transit_days": 3}
    row = ClockEvent(job=job, kind="promised", at=NOON, recorded_at=NOON, terms=kept)
    assert terms_of(job, [row]).means == "delivered"
    assert terms_of(job, []).means == "ready"
