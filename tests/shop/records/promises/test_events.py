"""Kept rows as events of the core's clock."""

import datetime as dt

from flueproof.promise.clock import events as core
from flueproof.shop.records.models import ClockEvent
from flueproof.shop.records.promises.events import cause_of, events_of, life_rows, open_causes, said_already

AT = dt.datetime(2026, 11, 30, 17, 0, tzinfo=dt.UTC)


def row(kind, cause="", minutes=0, **more):
    return ClockEvent(kind=kind, cause=cause, at=AT + dt.timedelta(minutes=minutes), recorded_at=AT, **more)


def test_every_kind_of_row_is_an_event_of_the_core():
    told = {
        "service": {"terms": {"service": "repair", "before": "verify"}},
        "promised": {"day": dt.date(2026, 12, 7), "terms": {"counted": "2026-12-08"}},
    }
    made = events_of(row(kind, **told.get(kind, {})) for kind, _ in ClockEvent.KINDS)
    assert [type(one) for one in made] == [
        core.BoxArrived,
        core.PaperworkComplete,
        core.PaperworkIncomplete,
        core.Stopped,
        core.WentOn,
        core.ServiceChanged,
        core.PromiseGiven,
        core.Ready,
        core.Delivered,
        core.Dropped,
    ]
    assert made[6].counted == dt.date(2026, 12, 8)


def test_not_ready_after_all_is_an_event_of_its_own():
    assert events_of([row("went-on", "ready")]) == [core.NoLongerReady(AT)]


def test_what_stands_is_told_by_time_and_not_by_when_it_was_entered():
    rows = [row("stopped", "owner", 10), row("stopped", "parts", 0), row("went-on", "owner", 5)]
    assert open_causes(rows) == {"owner", "parts"}
    assert open_causes([*rows, row("went-on", "", 20)]) == set()
    assert open_causes([row("stopped", "paperwork"), row("paperwork-complete")]) == set()
    assert open_causes([row("stopped", "owner"), row("went-on", "ready")]) == {"owner"}


def test_what_is_said_already_and_what_is_news():
    assert said_already([row("stopped", "owner")], "stopped", "owner", "", None)
    assert not said_already([row("stopped", "owner")], "stopped", "parts", "", None)
    assert said_already([], "went-on", "owner", "", None)
    assert said_already([], "went-on", "ready", "", None)
    assert not said_already([row("ready")], "went-on", "ready", "", None)
    assert not said_already([row("ready"), row("went-on", "ready")], "ready", "", "", None)
    assert said_already([row("paperwork-incomplete", words="a")], "paperwork-incomplete", "", "a", None)
    assert not said_already([row("paperwork-incomplete", words="a")], "paperwork-incomplete", "", "b", None)
    assert not said_already([row("service")], "service", "", "", None)
    assert said_already([row("delivered")], "delivered", "", "", None)


def test_an_unknown_cause_is_another_one():
    assert (cause_of("quote"), cause_of("weather")) == ("quote", "other")


def test_only_the_present_life_of_a_job_counts(job):
    def keep(kind):
        ClockEvent.objects.create(job=job, kind=kind, at=AT, recorded_at=AT)

    for kind in ("arrived", "called-off"):
        keep(kind)
    job.state = "dropped"
    assert [one.kind for one in life_rows(job)] == ["arrived", "called-off"]
    job.state = "requested"
    assert life_rows(job) == []
    keep("arrived")
    assert [one.kind for one in life_rows(job)] == ["arrived"]
    keep("called-off")
    job.state = "dropped"
    assert [one.kind for one in life_rows(job)] == ["arrived", "called-off"]
