"""The judgement of a visit: computed once for each state, with the rack as it stands."""

import datetime as dt

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from flueproof.shop.records.visits import judged as module
from flueproof.shop.records.visits.judged import judged


def test_it_is_computed_once_for_each_state(visit, ready, gas, monkeypatch):
    calls = []
    real = module.examine_record
    monkeypatch.setattr(module, "examine_record", lambda *args: calls.append(1) or real(*args))
    gas(500)
    judged(visit)
    judged(visit)
    assert len(calls) == 1
    gas(501)
    judged(visit)
    assert len(calls) == 2


def test_a_second_look_takes_two_queries(visit, ready, gas):
    gas(500)
    judged(visit)
    with CaptureQueriesContext(
        connection,
    ) as asked:
        judged(visit)
    assert len(asked) == 2


def test_the_rack_serves_proposals_and_stays_out_of_the_record(visit, ready):
    found = judged(visit)
    assert found.proposal.kind == "test-gas"
    assert found.proposal.reference == "CYL-CO-500"
    assert found.tree["references"] == {}


def test_a_withdrawn_cylinder_is_not_proposed(visit, ready, rack):
    rack["CYL-CO-500"].state = "withdrawn"
    rack["CYL-CO-500"].save()
    assert judged(visit).proposal.kind != "test-gas"


def test_a_cylinder_that_expired_meanwhile_is_not_proposed(visit, ready, rack):
    later = timezone.localdate() + dt.timedelta(days=400)
    assert judged(visit, later).proposal.kind != "test-gas"


def test_the_budget_falls_with_the_gas(visit, ready, gas):
    before = judged(visit).litres_left
    gas(500)
    assert before - judged(visit).litres_left > 3.0


def test_a_record_that_cannot_be_judged_says_why(visit, ready, add):
    add(
        "ambient-air",
        phase="as-found",
        readings=[{"channel": "no", "unit": "ppm", "step": 1, "shown": [0]}],
    )
    assert "no channel" in judged(visit).cannot
