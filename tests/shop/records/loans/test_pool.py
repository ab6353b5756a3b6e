"""The pool: units, where they are, and which are offered when a promise is at risk."""

import datetime as dt

import pytest

from flueproof.shop.records.loans.loan import Lending, LoanError, lend
from flueproof.shop.records.loans.pool import add_unit, at_risk, offered, pool
from flueproof.shop.records.models import Analyzer, LoanUnit

TODAY = dt.date(2026, 11, 25)


def test_an_analyzer_is_one_unit_and_a_name_stands_on_one_case(unit, owner, people):
    assert add_unit(unit.analyzer, "Loan 9", [], "", people["counter"]) == unit
    other = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="L5-2")
    with pytest.raises(LoanError, match="is called"):
        add_unit(other, "loan 1", [], "", people["counter"])
    with pytest.raises(LoanError, match="name"):
        add_unit(other, " ", [], "", people["counter"])
    other.control_unit = True
    other.save()
    with pytest.raises(LoanError, match="stays at the bench"):
        add_unit(other, "Loan 2", [], "", people["counter"])


def test_the_pool_says_who_has_it_and_for_how_long_too_long(unit, good, owner, people, now):
    lend(unit, Lending(owner, TODAY, good), people["counter"], now, TODAY)
    (one,) = pool(TODAY + dt.timedelta(days=3))
    assert (one.firm, one.days_over) == (owner, 3)


@pytest.mark.parametrize(
    ("changes", "risk"),
    [
        ({"promised_on": dt.date(2026, 12, 1)}, ""),
        ({"promised_on": dt.date(2026, 11, 24)}, "over"),
        ({"promised_on": dt.date(2026, 11, 26)}, "within a day"),
        ({"promised_on": dt.date(2026, 11, 26), "state": "to-return"}, ""),
        ({"promised_on": dt.date(2026, 12, 1), "needed_by": dt.date(2026, 11, 30)}, "before it is promised"),
        ({"promised_on": dt.date(2026, 12, 1), "state": "parts"}, "works without it"),
        ({"promised_on": dt.date(2026, 11, 1), "state": "returned"}, ""),
    ],
)
def test_a_promise_at_risk(job, changes, risk):
    for name, value in changes.items():
        setattr(job, name, value)
    said = at_risk(job, TODAY)
    assert risk in said
    assert bool(said) == bool(risk)


def test_free_units_are_offered_with_the_same_service_rules_first(unit, job, good, owner, people, now):
    unit.analyzer.profile = "five-cell"
    unit.analyzer.save()
    second = Analyzer.objects.create(owner=owner, make="Orrin", model="Orrin 5", serial="L5-2")
    same = add_unit(second, "Loan 2", [], "", people["counter"])
    job.promised_on = TODAY
    assert offered(job, TODAY) == [same, LoanUnit.objects.get(pk=unit.pk)]
    job.save()
    lend(same, Lending(owner, TODAY, good, job=job), people["counter"], now, TODAY)
    assert offered(job, TODAY) == []
