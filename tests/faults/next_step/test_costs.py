"""Costs: every figure there, none unknown, none negative."""

import dataclasses

import pytest

from flueproof.faults.errors import KnowledgeError
from flueproof.faults.next_step.costs import Costs, costs_from, shipped_costs

GOOD = dataclasses.asdict(shipped_costs()) | {"source": "invented"}


def test_money_becomes_minutes_by_the_price_of_a_minute():
    assert costs_from(GOOD | {"minute_price": 2.0}).minutes(10, 30) == pytest.approx(25.0)


@pytest.mark.parametrize("field", [one.name for one in dataclasses.fields(Costs)])
def test_a_figure_that_is_missing_is_named(field):
    with pytest.raises(KnowledgeError, match=field):
        costs_from({key: value for key, value in GOOD.items() if key != field})


@pytest.mark.parametrize(("field", "value"), [("minute_price", 0), ("send_in_minutes", -1), ("search_share", 1.1)])
def test_a_figure_out_of_range_is_refused(field, value):
    with pytest.raises(KnowledgeError, match=field):
        costs_from(GOOD | {field: value})


def test_an_unknown_figure_is_refused():
    with pytest.raises(KnowledgeError, match="coffee"):
        costs_from(GOOD | {"coffee": 3})
