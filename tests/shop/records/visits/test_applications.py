"""A measuring step while it runs: each reading kept before it is acknowledged, never twice, recorded at its end."""

import datetime as dt
import json

import pytest

from flueproof.readings.errors import ShownError
from flueproof.shop.records.models import GasUse, Reading, Reference
from flueproof.shop.records.visits.applications import (
    ApplicationError,
    add_typed,
    begin_application,
    drop_application,
    finish_application,
    mark_gas_on,
    running,
)
from flueproof.shop.records.visits.events import Sender, SentDifferentlyError
from flueproof.shop.records.visits.opening import open_visit
from flueproof.shop.records.visits.projection import record_of, record_tree

PLAN = {
    "kind": "test-gas",
    "phase": "as-found",
    "point": "co-mid",
    "channels": [{"channel": "o2", "unit": "%", "step": 0.1}, {"channel": "co", "unit": "ppm", "step": 1}],
    "path": {"feed": "tip", "probe": "owner"},
    "feed": {"supply_l_min": 1.5, "vent_open": True},
}


def after(now, seconds):
    return now + dt.timedelta(seconds=seconds)


def co(shown, t_s):
    return {"channel": "co", "unit": "ppm", "step": 1, "shown": shown, "t_s": t_s}


@pytest.fixture
def cylinder(db):
    return Reference.objects.create(
        code="cyl-co-500",
        kind="test-gas",
        title="CO 502 ppm in nitrogen",
        state="in-use",
        good_until=dt.date(2028, 2, 1),
        water_volume_l=10.0,
        fill_kpa=13_000.0,
        content={
            "kind": "test-gas",
            "supplier": "Gas House (invented)",
            "certificate": "LN-88213",
            "balance": "nitrogen",
            "components": {"co": {"unit": "ppm", "value": 502.0, "expanded_uncertainty": 5.0, "k": 2.0}},
            "certified": "2026-02-01",
            "expires": "2028-02-01",
        },
    )


@pytest.fixture
def visit(job, people, shop, now):
    return open_visit(job, people["technician"], now, shop)


@pytest.fixture
def application(visit, cylinder, people, now):
    return begin_application(visit, PLAN, cylinder, people["technician"], now)


def test_an_application_becomes_a_step_the_record_reads(application, visit, people, now):
    mark_gas_on(application, after(now, 5))
    for number, (shown, t_s) in enumerate([(0, 0), (402, 35), (468, 65), ("481", 95), (486, 125)], start=1):
        add_typed(application, Sender("page-1", number), [co(shown, t_s)], after(now, t_s))
    event = finish_application(application, people["technician"], after(now, 125))
    step = json.loads(event.body)
    assert step["readings"] == [
        {"channel": "co", "unit": "ppm", "step": 1.0, "t_s": [0, 35, 65, 95, 125], "shown": [0, 402, 468, 481, 486]}
    ]
    assert (step["gas_on_s"], step["reference"], step["application"]) == (5.0, "cyl-co-500", 1)
    assert record_of(visit).steps[-1].kind == "test-gas"
    assert running(visit) is None


def test_the_second_application_of_the_same_gas_counts_two(application, visit, cylinder, people, now):
    add_typed(application, Sender("page-1", 1), [co(486, 0)], now)
    finish_application(application, people["technician"], after(now, 60))
    again = begin_application(visit, PLAN, cylinder, people["technician"], after(now, 90))
    add_typed(again, Sender("page-1", 2), [co(487, 0)], after(now, 120))
    assert json.loads(finish_application(again, people["technician"], after(now, 150)).body)["application"] == 2


def test_a_repeated_reading_is_kept_once(application, now):
    for _ in range(3):
        add_typed(application, Sender("page-1", 7), [co(402, 30)], now)
    assert Reading.objects.filter(source="page-1").count() == 1


def test_one_number_for_two_different_readings_is_refused(application, now):
    add_typed(application, Sender("page-1", 7), [co(402, 30)], now)
    with pytest.raises(SentDifferentlyError):
        add_typed(application, Sender("page-1", 7), [co(403, 30)], now)
    assert Reading.objects.get().shown == 402


def test_a_value_typed_anew_counts_and_the_first_stays_in_the_table(application, people, now):
    add_typed(application, Sender("page-1", 1), [co(4020, 30)], now)
    add_typed(application, Sender("page-1", 2), [co(402, 30)], now)
    step = json.loads(finish_application(application, people["technician"], after(now, 60)).body)
    assert step["readings"][0]["shown"] == [402]
    assert Reading.objects.count() == 2


def test_a_text_of_the_display_is_kept_as_shown(application, people, now):
    add_typed(application, Sender("page-1", 1), [co("OVER", 30)], now)
    step = json.loads(finish_application(application, people["technician"], after(now, 60)).body)
    assert step["readings"][0]["shown"] == ["OVER"]


def test_what_no_display_shows_is_refused_and_nothing_is_kept(application, now):
    with pytest.raises(ShownError, match="OVER for above"):
        add_typed(application, Sender("page-1", 1), [co(402, 0), co("four hundred", 30)], now)
    assert not Reading.objects.exists()


def test_gas_is_written_off_once_by_flow_and_time(application, people, now):
    mark_gas_on(application, now)
    add_typed(application, Sender("page-1", 1), [co(486, 0)], now)
    first = finish_application(application, people["technician"], after(now, 120))
    assert finish_application(application, people["technician"], after(now, 300)) == first
    assert GasUse.objects.get().litres == pytest.approx(1.5 * 120 / 60)


def test_only_one_runs_at_a_visit(application, visit, people, now):
    with pytest.raises(ApplicationError, match="already running"):
        begin_application(visit, PLAN, None, people["technician"], now)


def test_nothing_read_is_nothing_to_record(application, people, now):
    with pytest.raises(ApplicationError, match="Nothing was read"):
        finish_application(application, people["technician"], now)


def test_dropping_needs_a_reason_and_leaves_a_note(application, visit, people, now):
    with pytest.raises(ApplicationError, match="why"):
        drop_application(application, "  ", people["technician"], now)
    drop_application(application, "hose came off", people["technician"], now)
    assert "hose came off" in record_tree(visit)["steps"][-1]["text"]
    with pytest.raises(ApplicationError, match="ended"):
        add_typed(application, Sender("page-1", 1), [co(486, 0)], now)


def test_a_note_taken_meanwhile_does_not_stop_the_recording(application, visit, people, now):
    from flueproof.shop.records.visits.events import add_step

    add_step(visit, {"kind": "note", "text": "phone rang"}, people["technician"], after(now, 40))
    add_typed(application, Sender("page-1", 1), [co(486, 30)], now)
    finish_application(application, people["technician"], after(now, 60))
    assert len(record_of(visit).steps) == 2
