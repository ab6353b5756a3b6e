"""That was the wrong one: the box is unknown again, the job stands as before, and both tell why."""

import pytest

from flueproof.shop.records.intake.arrivals import ArrivalRefusedError, enter_box
from flueproof.shop.records.intake.putting_back import put_back
from flueproof.shop.records.intake.taking import take_analyzer
from flueproof.shop.records.models import Job, Visit


def test_a_job_that_was_awaited_waits_for_its_own_box_again(arrival, analyzer, awaited, by, now):
    take_analyzer(arrival, analyzer, by, now)
    row = put_back(arrival, "the plate says O5-20471", by, now)
    job = Job.objects.get()
    assert (row.state, row.job, job.state, job.received_on, job.closed_at) == ("open", None, "requested", None, None)
    assert job.moments.last().what == "wrong box, put back"
    assert "O5-20471" in row.note
    assert put_back(arrival, "again", by, now).note == row.note
    assert take_analyzer(arrival, analyzer, by, now).job.state == "arrived"


def test_a_job_that_was_made_for_the_box_is_dropped(arrival, analyzer, by, now):
    take_analyzer(arrival, analyzer, by, now)
    put_back(arrival, "another model", by, now)
    assert Job.objects.get().state == "dropped"


def test_a_second_box_put_back_leaves_the_job_where_it_is(arrival, analyzer, awaited, by, now):
    take_analyzer(arrival, analyzer, by, now)
    second = enter_box(by, now)
    take_analyzer(second, analyzer, by, now)
    put_back(second, "only a charger, of somebody else", by, now)
    assert Job.objects.get().state == "arrived"


def test_it_needs_a_reason_and_stops_where_the_bench_has_begun(arrival, analyzer, by, now, people):
    taken = take_analyzer(arrival, analyzer, by, now)
    with pytest.raises(ArrivalRefusedError, match="Say what was wrong"):
        put_back(arrival, " ", by, now)
    Visit.objects.create(job=taken.job, number=1, opened_at=now, opened_by=people["technician"])
    with pytest.raises(ArrivalRefusedError, match="on the bench already"):
        put_back(arrival, "wrong", by, now)
