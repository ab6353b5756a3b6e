"""The box on the counter, and a plate that is read when it is there."""

import pytest

from flueproof.shop.records.jobs.box import PlateTakenError, arrive, plate_unread, read_plate
from flueproof.shop.records.jobs.opening import JobOrder, NewAnalyzer, open_job


@pytest.fixture
def unread(owner, people, now):
    return open_job(owner, NewAnalyzer("Orrin", "Orrin 5", ""), JobOrder(), people["counter"], now)


def test_the_box_arrives_once(unread, people, now):
    assert arrive(unread, people["counter"], now).state == "arrived"
    unread.refresh_from_db()
    assert arrive(unread, people["counter"], now).state == "arrived"
    assert unread.moments.filter(state_after="arrived").count() == 1


def test_the_serial_is_taken_exactly_as_on_the_plate(unread, people):
    assert plate_unread(unread)
    assert read_plate(unread, "00417-O", people["counter"]).serial == "00417-O"
    unread.analyzer.refresh_from_db()
    assert not plate_unread(unread)
    versions = unread.analyzer.history.count()
    read_plate(unread, "00417-O", people["counter"])
    assert unread.analyzer.history.count() == versions


def test_a_plate_that_is_on_file_is_not_made_twice(unread, people, analyzer):
    with pytest.raises(PlateTakenError, match="Tidewater"):
        read_plate(unread, analyzer.serial, people["counter"])
    unread.analyzer.refresh_from_db()
    assert plate_unread(unread)
