"""Opening a job: for what is on file or new, all or nothing, never two open jobs for one analyzer."""

import datetime as dt

import pytest

from flueproof.shop.records.jobs.opening import (
    SERIAL_UNKNOWN,
    JobOrder,
    NewAnalyzer,
    NewOwner,
    OpeningRefusedError,
    open_job,
)
from flueproof.shop.records.models import Analyzer, Job, Owner, OwnerContact

NEW_OWNER = NewOwner("Reed Burners (invented)", "Bo Reed (invented)", "555-0177", "bo@reed.example")
NEW_ANALYZER = NewAnalyzer("Orrin", "Orrin 5", "O5-00017")


def test_owner_analyzer_and_job_are_made_together_by_the_one_who_did(people, now):
    job = open_job(NEW_OWNER, NEW_ANALYZER, JobOrder(complaint="no zero"), people["counter"], now)
    assert (job.state, job.number, job.complaint) == ("requested", "J-2026-00001", "no zero")
    assert job.owner.contacts.get().phone == "555-0177"
    assert job.analyzer.serial == "O5-00017"
    for row in (job, job.owner, job.analyzer):
        assert row.history.get().history_user == people["counter"]
    assert job.moments.get().what == "opened"


def test_the_job_takes_the_owners_decision_rule_and_no_due_date_that_was_not_agreed(people, now, owner, analyzer):
    owner.decision_rule, owner.due_agreed = "guarded-U", False
    owner.save()
    job = open_job(owner, analyzer, JobOrder(due_wanted=True), people["counter"], now)
    assert (job.decision_rule, job.due_wanted) == ("guarded-U", False)
    assert job.owner == owner


def test_a_second_press_finds_the_job_of_the_first(people, now, owner, analyzer):
    first = open_job(owner, analyzer, JobOrder(), people["counter"], now)
    with pytest.raises(OpeningRefusedError) as refused:
        open_job(owner, analyzer, JobOrder(), people["counter"], now)
    assert refused.value.job == first
    assert Job.objects.count() == 1


def test_a_closed_job_stands_in_nobodys_way(people, now, owner, analyzer, job):
    job.state = "returned"
    job.save()
    assert open_job(owner, analyzer, JobOrder(), people["counter"], now).state == "requested"


def test_a_refusal_leaves_no_owner_no_analyzer_and_no_number(people, now, analyzer):
    known = NewAnalyzer("Orrin", "Orrin 5", "O5-20417")
    with pytest.raises(OpeningRefusedError, match="on file already"):
        open_job(NEW_OWNER, known, JobOrder(), people["counter"], now)
    assert not Owner.objects.filter(name=NEW_OWNER.name).exists()
    assert not Job.objects.exists()
    assert open_job(NEW_OWNER, NEW_ANALYZER, JobOrder(), people["counter"], now).number == "J-2026-00001"


def test_somebody_elses_analyzer_is_refused_with_the_name_of_its_owner(people, now, analyzer):
    other = Owner.objects.create(name="Reed Burners (invented)")
    with pytest.raises(OpeningRefusedError, match="belongs to Tidewater"):
        open_job(other, analyzer, JobOrder(), people["counter"], now)


def test_two_serials_nobody_read_yet_do_not_collide(people, now, owner):
    unread = NewAnalyzer("Orrin", "Orrin 5", "")
    for _ in range(2):
        open_job(owner, unread, JobOrder(), people["counter"], now)
    serials = set(Analyzer.objects.values_list("serial", flat=True))
    assert serials == {f"{SERIAL_UNKNOWN} (J-2026-00001)", f"{SERIAL_UNKNOWN} (J-2026-00002)"}


def test_nobody_is_noted_where_no_caller_was_given(people, now):
    open_job(NewOwner("Reed Burners (invented)"), NEW_ANALYZER, JobOrder(), people["counter"], now)
    assert not OwnerContact.objects.filter(owner__name__startswith="Reed").exists()


def test_the_number_is_of_the_year_in_the_shop(people, owner, analyzer, settings):
    before_midnight_here = dt.datetime(2027, 1, 1, 2, 0, tzinfo=dt.UTC)
    job = open_job(owner, analyzer, JobOrder(), people["counter"], before_midnight_here)
    assert job.number.startswith("J-2026-")
