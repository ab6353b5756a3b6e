"""A box becomes that of an analyzer: the job that waits for it, or a new one."""

import datetime as dt

import pytest

from flueproof.shop.records.intake.arrivals import ArrivalRefusedError, enter_box
from flueproof.shop.records.intake.taking import (
    ReportedMissingError,
    take_analyzer,
    take_job,
    take_new,
    take_sold_on,
)
from flueproof.shop.records.jobs.opening import NewAnalyzer, NewOwner
from flueproof.shop.records.models import Analyzer, Job, Obligation, Owner, RequestedAnalyzer, ServiceRequest


def test_the_job_that_waits_for_it_has_its_box_and_a_second_press_does_nothing(arrival, analyzer, awaited, by, now):
    taken = take_analyzer(arrival, analyzer, by, now, weighed={"stranger": 0.01})
    assert take_analyzer(arrival, analyzer, by, now).job == taken.job == awaited
    job = Job.objects.get()
    assert (job.state, job.received_on, taken.again) == ("arrived", dt.date(2026, 11, 25), False)
    assert [one.what for one in job.moments.all()] == ["box recognized", "state"]
    assert taken.arrival.weighed == {"stranger": 0.01, "opened": False}


def test_without_a_job_one_is_opened(arrival, analyzer, by, now):
    taken = take_analyzer(arrival, analyzer, by, now)
    assert (taken.job.state, taken.job.owner, taken.arrival.weighed) == ("arrived", analyzer.owner, {"opened": True})


def test_a_second_box_of_a_job_that_is_here_is_tied_to_it_and_its_state_stays(arrival, analyzer, job, by, now):
    taken = take_analyzer(arrival, analyzer, by, now)
    assert (taken.job, taken.again, Job.objects.get().state) == (job, True, "arrived")
    assert job.moments.get().what == "another box"


def test_somebody_was_faster_with_another_analyzer(arrival, analyzer, by, now):
    take_analyzer(arrival, analyzer, by, now)
    other = Analyzer.objects.create(owner=analyzer.owner, make="Orrin", model="Orrin 5", serial="O5-9")
    with pytest.raises(ArrivalRefusedError, match="Somebody was faster"):
        take_analyzer(arrival, other, by, now)
    assert Job.objects.count() == 1


@pytest.mark.parametrize("where", ["lost", "stolen"])
def test_an_analyzer_reported_missing_stops_and_kept_aside_it_is_held_for_its_owner(arrival, analyzer, by, now, where):
    analyzer.whereabouts = where
    analyzer.save()
    with pytest.raises(ReportedMissingError):
        take_analyzer(arrival, analyzer, by, now)
    assert not Job.objects.exists()
    taken = take_analyzer(arrival, analyzer, by, now, keep_aside=True)
    assert (taken.job.state, taken.job.waits_for) == ("held", f"reported {where}: call its owner on file")
    assert taken.job.as_found
    assert Analyzer.objects.get().as_found_needed


def test_an_analyzer_sold_on_is_looked_at_as_found_and_old_due_dates_end(arrival, analyzer, by, now):
    Obligation.objects.create(analyzer=analyzer, next_due=dt.date(2026, 12, 1))
    to = Owner.objects.create(name="Moss & Reed (invented)")
    taken = take_sold_on(arrival, analyzer, to, by, now)
    unit = Analyzer.objects.get()
    assert (taken.job.owner, unit.owner, unit.as_found_needed, taken.job.as_found) == (to, to, True, True)
    assert not Obligation.objects.exists()
    assert "was of Tidewater Heating" in taken.job.moments.get(what="sold on").text


def test_an_analyzer_with_an_open_job_of_its_old_owner_is_not_sold_on_in_passing(arrival, analyzer, awaited, by, now):
    to = Owner.objects.create(name="Moss & Reed (invented)")
    with pytest.raises(ArrivalRefusedError, match="J-2026-00050"):
        take_sold_on(arrival, analyzer, to, by, now)
    assert Analyzer.objects.get().owner == analyzer.owner


def test_a_stranger_becomes_owner_analyzer_and_job_at_once(arrival, by, now):
    firm = NewOwner("Moss & Reed (invented)", "T. Moss (invented)", "555-0111")
    taken = take_new(arrival, firm, NewAnalyzer("Orrin", "Orrin 5", ""), by, now)
    assert (taken.job.owner.name, taken.job.state) == ("Moss & Reed (invented)", "arrived")
    assert take_new(arrival, firm, NewAnalyzer("Orrin", "Orrin 5", ""), by, now).job == taken.job
    assert Owner.objects.filter(name=firm.name).count() == 1


def test_a_serial_that_this_make_has_on_file_is_refused_and_at_another_make_it_is_not(arrival, analyzer, by, now):
    firm = NewOwner("Moss & Reed (invented)")
    with pytest.raises(ArrivalRefusedError, match="on file already"):
        take_new(arrival, firm, NewAnalyzer("Orrin", "Orrin 5", "O5-20417"), by, now)
    assert not Owner.objects.filter(name=firm.name).exists()
    taken = take_new(arrival, firm, NewAnalyzer("Velm", "V2", "O5-20417"), by, now)
    assert taken.job.analyzer.make == "Velm"


def test_a_box_is_not_tied_to_a_job_that_is_closed(arrival, job, by, now):
    job.state = "returned"
    job.save()
    with pytest.raises(ArrivalRefusedError, match="open a new job"):
        take_job(arrival, job, by, now)
    again = take_analyzer(arrival, job.analyzer, by, now, comeback_of=job)
    assert (again.job.first_job, again.job.complaint) == (job, "O2 reads high")


def test_two_boxes_with_one_slip_are_one_job(awaited, by, now, shop):
    first = take_job(enter_box(by, now, slip="K7"), awaited, by, now)
    second = take_job(enter_box(by, now, slip="K7"), Job.objects.get(), by, now)
    assert (first.again, second.again) == (False, True)
    assert awaited.arrivals.count() == 2


def asked_for(analyzer, now, **request):
    row = ServiceRequest.objects.create(**{"code": "R-1", "state": "confirmed", "made_at": now, **request})
    said = {"make": analyzer.make, "model": analyzer.model, "serial": analyzer.serial, "complaint": "CO drifts"}
    return RequestedAnalyzer.objects.create(request=row, slip="AAAA-1111", **said)


def test_a_confirmed_request_of_its_owner_becomes_the_job(arrival, analyzer, by, now):
    asked = asked_for(analyzer, now, email="ADA@tidewater.example")
    taken = take_analyzer(arrival, analyzer, by, now)
    asked.refresh_from_db()
    assert (taken.job.complaint, asked.job, taken.arrival.weighed["opened"]) == ("CO drifts", taken.job, False)
    assert asked.request.state == "taken"


def test_a_strangers_request_for_somebodys_analyzer_is_not_its_order(arrival, analyzer, by, now):
    asked = asked_for(analyzer, now, email="other@else.example", lines="1 Elsewhere", town="Elsewhere")
    taken = take_analyzer(arrival, analyzer, by, now)
    asked.refresh_from_db()
    assert (taken.job.return_address, asked.job) == ("", None)


def test_the_slip_of_a_request_that_nobody_confirmed_is_confirmed_by_the_counter(arrival, analyzer, by, now):
    whole = {"firm": "Tidewater", "contact": "A. Quay", "email": "a@b.example", "lines": "5 Quay", "town": "Alder"}
    asked = asked_for(analyzer, now, state="unconfirmed", phone="555-0100", **whole)
    taken = take_analyzer(arrival, analyzer, by, now, requested=asked)
    asked.refresh_from_db()
    assert (asked.job, asked.request.confirmed_at is not None) == (taken.job, True)


def test_a_request_joins_the_job_that_its_analyzer_has_already(arrival, analyzer, awaited, by, now):
    asked = asked_for(analyzer, now, owner=analyzer.owner)
    taken = take_analyzer(arrival, analyzer, by, now)
    asked.refresh_from_db()
    assert (taken.job, asked.job) == (awaited, awaited)


def test_what_a_request_lacks_does_not_keep_its_box_outside(arrival, analyzer, by, now):
    asked = asked_for(analyzer, now, state="unconfirmed")
    assert take_analyzer(arrival, analyzer, by, now, requested=asked).job.complaint == "CO drifts"
