"""Finishing at the bench: only what may be signed, or a report that is no certificate."""

import pytest
from django.utils import timezone

from flueproof.bench.errors import RecordError
from flueproof.shop.records.models import Application
from flueproof.shop.records.visits.acts.finishing import finish_bench, may_be_reported, may_be_signed
from flueproof.shop.records.visits.judged import judged


def test_an_empty_record_is_neither_signed_nor_reported(visit):
    assert not may_be_signed(judged(visit))
    assert not may_be_reported(judged(visit))


@pytest.mark.usefixtures("ready")
class TestFinishing:
    def test_a_healthy_unit_goes_to_the_signature_once(self, visit, gas, rest, people, job):
        gas(500)
        rest()
        for _ in range(2):
            assert finish_bench(visit, people["technician"], timezone.now()).state == "to-sign"
        assert job.moments.filter(state_after="to-sign").count() == 1

    def test_what_is_not_complete_stays(self, visit, gas, people):
        gas(500)
        with pytest.raises(RecordError, match="cannot be signed"):
            finish_bench(visit, people["technician"], timezone.now())

    def test_it_may_be_closed_with_a_report_that_says_so(self, visit, gas, people, job):
        gas(400)
        finish_bench(visit, people["technician"], timezone.now(), report=True)
        assert "no certificate" in job.moments.last().text

    def test_gas_that_is_on_comes_first(self, visit, gas, rest, people):
        gas(500)
        rest()
        Application.objects.create(visit=visit, plan={}, began_at=timezone.now(), began_by=people["technician"])
        with pytest.raises(RecordError, match="a measurement is running"):
            finish_bench(visit, people["technician"], timezone.now())
