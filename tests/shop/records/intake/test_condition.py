"""What was in a box is kept with its job; what is missing is asked for once."""

from dataclasses import dataclass

import pytest

from flueproof.shop.records.intake.condition import (
    MOST_PHOTOS,
    Found,
    ask_for,
    keep_photos,
    not_asked_yet,
    not_in_the_box,
    note_found,
)
from flueproof.shop.records.intake.taking import take_job
from flueproof.shop.records.mailing.questions import withdraw
from flueproof.shop.records.models import ClockEvent, Job


@dataclass
class NoPhoto:
    name: str | None
    size: int | None

    def read(self):
        return b"no photo"


@pytest.fixture
def known(arrival, awaited, by, now):
    return take_job(arrival, awaited, by, now).arrival


def test_the_same_look_twice_is_one_moment(known, by, now):
    for _ in range(2):
        job = note_found(known, Found([" probe ", "probe", "trap"], " dry ", ["wet"]), by, now)
    assert (job.enclosed, job.condition, job.accidents) == (["probe", "trap"], "dry", ["wet"])
    (moment,) = job.moments.filter(what="box looked at")
    assert moment.text == "in it: probe, trap; missing: hose; dry"


def test_an_accident_that_the_owner_told_stays(known, by, now):
    Job.objects.get()
    job = known.job
    job.refresh_from_db()
    job.accidents = ["dropped"]
    job.save()
    assert note_found(known, Found([], "dry", []), by, now).accidents == ["dropped"]


def test_the_paperwork_is_complete_as_soon_as_all_is_here(known, by, now):
    note_found(known, Found(["probe"], "dry"), by, now)
    assert not ClockEvent.objects.filter(kind="paperwork-complete").exists()
    note_found(known, Found(["probe", "hose", "trap"], "dry"), by, now)
    assert ClockEvent.objects.filter(kind="paperwork-complete").count() == 1


def test_what_was_asked_for_is_not_asked_again_until_it_is_withdrawn(known, by, now):
    job = note_found(known, Found(["PROBE"], "dry"), by, now)
    assert not_in_the_box(job) == ["hose", "trap"]
    asked = ask_for(job, ["hose", "hose", "car"], by, now)
    assert [one.subject for one in asked] == ["hose"]
    assert ask_for(job, ["hose"], by, now) == []
    assert not_asked_yet(job) == ["trap"]
    withdraw(asked[0], by, now)
    assert not_asked_yet(job) == ["hose", "trap"]


def test_more_photos_than_are_taken_at_once_are_refused_by_name(known, by, now):
    files = [NoPhoto(f"{number}.jpg", 8) for number in range(MOST_PHOTOS + 1)]
    kept = keep_photos(known, known.job, files, "", by, now)
    assert kept.kept == ()
    assert len(kept.refused) == MOST_PHOTOS + 1
    assert kept.refused[-1] == (f"{MOST_PHOTOS}.jpg", f"More than {MOST_PHOTOS} at once; send the others after these.")


def test_a_file_without_a_name_is_refused_too(known, by, now):
    (refused,) = keep_photos(known, known.job, [NoPhoto(None, None)], "", by, now).refused
    assert refused[0] == "photo"
