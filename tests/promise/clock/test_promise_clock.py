"""The promise clock: what starts it, what stops and moves it, and that it never counts backwards."""

from datetime import UTC, date, datetime, timedelta

import pytest

from flueproof.promise.calendar.shop_calendar import Closure, ShopCalendar
from flueproof.promise.clock.errors import BadEventError, BadTermsError
from flueproof.promise.clock.events import (
    BoxArrived,
    Delivered,
    Dropped,
    NoLongerReady,
    PaperworkComplete,
    PaperworkIncomplete,
    PromiseGiven,
    Ready,
    ServiceChanged,
    Stopped,
    WentOn,
)
from flueproof.promise.clock.promise_clock import promise_state
from flueproof.promise.clock.terms import Terms
from flueproof.promise.clock.wording import promise_in_words

SHOP = ShopCalendar(time_zone="America/New_York")
TERMS = Terms()
THE_2ND = date(2026, 12, 2)


def at(day, hour=9, minute=0, month=11):
    return datetime(2026, month, day, hour, minute, tzinfo=SHOP.zone)


def in_december(day, hour=9, minute=0):
    return at(day, hour, minute, month=12)


STARTED = [BoxArrived(at(24, 8)), PaperworkComplete(at(24, 9))]
GIVEN = [*STARTED, PromiseGiven(at(24, 9, 5), THE_2ND)]


def state(events, now, terms=TERMS, shop=SHOP):
    return promise_state(events, terms, shop, now)


class TestStart:
    """The clock starts when box and paperwork are complete."""

    def test_the_day_both_are_here_is_day_0_and_thanksgiving_does_not_count(self):
        found = state(STARTED, at(24, 12))
        assert (found.status, found.started_at, found.day_zero) == ("running", at(24, 9), date(2026, 11, 24))
        assert found.promised_on == found.counted_on == THE_2ND
        assert (found.used, found.left, found.late_by) == (0, 5, 0)
        assert found.deadline == in_december(2, 17)
        assert found.needs_giving

    def test_a_box_without_paperwork_says_what_is_missing(self):
        found = state([BoxArrived(at(24)), PaperworkIncomplete(at(24), "signature")], at(25))
        assert (found.status, found.promised_on, found.missing) == ("not-started", None, ("paperwork: signature",))
        assert found.stops == ()
        assert promise_in_words(found, SHOP) == (
            "No day is promised yet: the clock starts when these are here: paperwork: signature."
        )

    def test_paperwork_before_the_box_starts_with_the_box(self):
        assert state([PaperworkComplete(at(20)), BoxArrived(at(24, 9))], at(24, 10)).promised_on == THE_2ND

    def test_paperwork_that_was_complete_and_is_not_any_more_does_not_start_it(self):
        events = [PaperworkComplete(at(20)), PaperworkIncomplete(at(23)), BoxArrived(at(24))]
        assert state(events, at(25)).missing == ("the paperwork",)

    def test_after_the_cut_off_the_next_business_day_is_day_0(self):
        found = state([BoxArrived(at(25, 15, 1)), PaperworkComplete(at(25, 15, 1))], at(25, 16))
        assert (found.day_zero, found.used, found.left) == (date(2026, 11, 27), 0, 6)
        assert found.promised_on == date(2026, 12, 4)

    def test_a_second_box_starts_nothing_anew(self):
        assert state([*STARTED, BoxArrived(at(27))], at(30)).promised_on == THE_2ND


class TestStops:
    """A stop moves the promise forward by the business days that it really stood, and no further."""

    def test_a_stop_of_two_whole_days_moves_it_two_days(self):
        events = [*STARTED, Stopped(at(24, 10), "owner", "your yes to the hose"), WentOn(at(27, 10))]
        found = state(events, at(27, 12))
        assert (found.moved_days, found.carried, found.promised_on) == (2, 0, date(2026, 12, 4))
        assert [(stop.stood, stop.moved) for stop in found.stops] == [(2, 2)]
        assert (found.used, found.left) == (0, 5)

    def test_a_part_day_within_a_day_moves_nothing_but_is_kept(self):
        events = [*STARTED, Stopped(at(24, 9), "parts"), WentOn(at(24, 13, 30))]
        found = state(events, at(24, 14))
        assert (found.moved_days, found.carried, found.promised_on) == (0, pytest.approx(0.5), THE_2ND)

    def test_two_half_days_are_a_day(self):
        half = [Stopped(at(24, 9), "parts"), WentOn(at(24, 13, 30)), Stopped(at(25, 8), "parts")]
        assert state([*STARTED, *half, WentOn(at(25, 12, 29))], at(25, 14)).moved_days == 0
        assert state([*STARTED, *half, WentOn(at(25, 12, 30))], at(25, 14)).moved_days == 1

    def test_a_stop_over_the_end_of_a_day_counts_that_day_once(self):
        night = [Stopped(at(24, 16), "owner"), WentOn(at(25, 10))]
        found = state([*STARTED, *night], at(25, 11))
        assert (found.moved_days, found.carried) == (1, pytest.approx(1 / 3 - 1))
        again = [*night, Stopped(at(25, 16), "owner"), WentOn(at(27, 10))]
        assert state([*STARTED, *again], at(27, 11)).moved_days == 1

    def test_a_stop_on_a_holiday_or_a_weekend_costs_nothing(self):
        events = [*STARTED, Stopped(at(25, 17), "owner"), WentOn(at(27, 8))]
        found = state(events, at(27, 9))
        assert (found.moved_days, found.stops[0].stood, found.promised_on) == (0, 0, THE_2ND)
        weekend = [*STARTED, Stopped(at(28, 1), "owner"), WentOn(at(29, 23))]
        assert state(weekend, at(30)).promised_on == THE_2ND

    def test_it_never_falls_due_while_it_stands(self):
        events = [*STARTED, Stopped(in_december(2, 16, 30), "owner")]
        for day, hour in [(2, 17), (2, 23), (3, 0), (3, 9), (4, 1), (4, 16), (7, 3), (11, 12)]:
            found = state(events, in_december(day, hour))
            assert found.stands
            assert not found.is_late, (day, hour)
            assert found.left == 0
            assert found.promised_on >= SHOP.today(found.now)

    def test_a_stop_after_closing_on_the_promised_day_does_not_save_it(self):
        events = [*STARTED, Stopped(in_december(2, 17), "owner"), WentOn(in_december(3, 8))]
        assert state(events, in_december(3, 9)).late_by == 1

    def test_a_new_day_agreed_while_it_stands_counts_from_then(self):
        late = [*GIVEN, Stopped(in_december(4, 10), "parts"), PromiseGiven(in_december(7, 12), date(2026, 12, 11))]
        assert [state(late, in_december(day, 13)).late_by for day in (4, 7, 8)] == [2, 0, 0]
        assert {state(late, in_december(day, 13)).left for day in (7, 8, 9, 10, 11, 14)} == {4}

    def test_days_left_stand_as_long_as_the_clock(self):
        events = [*STARTED, Stopped(at(25, 9), "parts")]
        found = [state(events, moment) for moment in (at(25, 9), at(25, 16), at(26), at(27, 1), at(30), in_december(8))]
        assert {(one.used, one.left) for one in found} == {(1, 4)}

    def test_the_day_of_a_stop_that_an_earlier_one_had_to_spare_is_not_promised_for_today(self):
        spare = [Stopped(at(24, 16), "owner"), WentOn(at(25, 10)), Stopped(in_december(3, 16), "owner")]
        found = state([*STARTED, *spare], in_december(4, 9))
        assert (found.promised_on, found.late_by, found.moved_days) == (date(2026, 12, 3), 0, 1)
        assert promise_in_words(found, SHOP).startswith(
            "Promised for Thursday 3 December 2026, ready to ship; stopped since Thursday 3 December 2026, 16:00"
        )
        assert state([*STARTED, *spare, WentOn(in_december(4, 9))], in_december(4, 10)).late_by == 1

    def test_it_stands_and_says_since_when_and_for_whom(self):
        events = [*STARTED, Stopped(at(24, 10), "quote", "repair of the pump, 85.00")]
        found = state(events, at(25, 9))
        assert found.stands
        assert [stop.why for stop in found.standing] == ["quote"]
        assert promise_in_words(found, SHOP, "owner") == (
            "Promised for Thursday 3 December 2026, ready to ship, if it goes on today; stopped since Tuesday 24 "
            "November 2026, 10:00, waiting for your yes to the quote: repair of the pump, 85.00."
        )
        assert "waiting for the owner's yes to the quote" in promise_in_words(found, SHOP, "bench")

    def test_overlapping_stops_count_once_and_the_first_pays(self):
        events = [
            *STARTED,
            Stopped(at(24, 10), "owner", "reset the clock?"),
            Stopped(at(25, 10), "parts", "CO cell"),
            WentOn(at(27, 10), "owner"),
            WentOn(at(30, 10), "parts"),
        ]
        found = state(events, at(30, 12))
        assert [(stop.why, stop.stood, stop.moved) for stop in found.stops] == [("owner", 2, 2), ("parts", 2, 1)]
        assert found.moved_days == 3
        assert found.promised_on == date(2026, 12, 7)

    def test_going_on_for_one_reason_leaves_the_other_standing(self):
        events = [*STARTED, Stopped(at(24, 10), "owner"), Stopped(at(24, 11), "parts"), WentOn(at(24, 12), "owner")]
        found = state(events, at(24, 13))
        assert found.stands
        assert [stop.why for stop in found.standing] == ["parts"]
        assert not state([*events, WentOn(at(24, 14))], at(24, 15)).stands

    def test_the_same_reason_twice_is_one_stop_with_both_words(self):
        events = [*STARTED, Stopped(at(24, 10), "owner", "limits?"), Stopped(at(25, 10), "owner", "address?")]
        (stop,) = state(events, at(25, 12)).stops
        assert (stop.since, stop.words) == (at(24, 10), "limits?; address?")

    def test_paperwork_found_missing_after_the_start_is_a_stop(self):
        events = [*STARTED, PaperworkIncomplete(at(25, 8), "limits"), PaperworkComplete(at(27, 8))]
        (stop,) = state(events, at(27, 9)).stops
        assert (stop.why, stop.words, stop.moved) == ("paperwork", "limits", 1)

    def test_a_stop_before_the_start_costs_from_the_start_only(self):
        events = [Stopped(at(20, 9), "payment"), *STARTED, WentOn(at(25, 9))]
        (stop,) = state(events, at(25, 10)).stops
        assert (stop.stood, stop.moved) == (1, 1)

    def test_a_stop_after_the_cut_off_costs_from_the_opening_of_day_0(self):
        events = [BoxArrived(at(25, 16)), PaperworkComplete(at(25, 16)), Stopped(at(25, 16)), WentOn(at(27, 8))]
        assert state(events, at(27, 9)).stops[0].stood == 0


class TestChanges:
    """A given promise stays where it is whatever the calendar and the terms become; the risk shows."""

    def test_a_holiday_added_later_on_the_day_itself(self):
        changed = ShopCalendar(closures=(Closure(THE_2ND, THE_2ND, "inventory"),))
        found = state(GIVEN, in_december(1), shop=changed)
        assert (found.promised_on, found.counted_on) == (THE_2ND, date(2026, 12, 3))
        assert found.ready_by == date(2026, 12, 1)
        assert found.deadline == in_december(1, 17)
        assert found.risks[0] == (
            "Wednesday 2 December 2026 is now a closed day (inventory); the promise stays, so it has to be done by "
            "Tuesday 1 December 2026."
        )
        assert state(GIVEN, in_december(1)).risks == ()

    def test_a_holiday_added_on_the_way(self):
        changed = ShopCalendar(closures=(Closure(date(2026, 11, 27), date(2026, 11, 27), "funeral"),))
        found = state(GIVEN, in_december(1), shop=changed)
        assert found.promised_on == THE_2ND
        assert [risk.partition("; ")[2] for risk in found.risks] == [
            "the promise stays, with 1 business day less to keep it."
        ]
        assert "it would be Thursday 3 December 2026" in found.risks[0]

    def test_a_holiday_taken_away_does_not_bring_the_promise_forward(self):
        changed = ShopCalendar(country="")
        found = state(GIVEN, at(27), shop=changed)
        assert (found.promised_on, found.counted_on, found.risks) == (THE_2ND, date(2026, 12, 1), ())

    def test_longer_terms_leave_it_and_show_the_risk(self):
        longer = Terms(days={"verify-adjust": 7})
        found = state(GIVEN, at(27), terms=longer)
        assert found.promised_on == THE_2ND
        assert "2 business days less" in found.risks[0]

    def test_a_longer_service_moves_it_forward_and_a_shorter_one_does_not_bring_it_back(self):
        repair = [*GIVEN, ServiceChanged(at(27), "repair", before="verify-adjust")]
        assert state(repair, at(27)).promised_on == date(2026, 12, 4)
        back = [*repair, ServiceChanged(at(30), "verify-adjust", before="repair")]
        assert state(back, at(30)).promised_on == date(2026, 12, 4)
        assert state([*back, ServiceChanged(at(30, 10), "repair")], at(30, 11)).promised_on == date(2026, 12, 4)

    def test_a_service_changed_before_the_start_is_simply_the_service(self):
        events = [ServiceChanged(at(19), "repair", before="verify"), ServiceChanged(at(20), "verify"), *STARTED]
        assert state(events, at(24, 12)).promised_on == THE_2ND

    def test_a_day_is_to_be_told_when_it_moved_and_the_clock_runs(self):
        stop = [*GIVEN, Stopped(at(25, 9), "parts")]
        assert [state(told, at(27, 10)).needs_giving for told in (STARTED, GIVEN, stop)] == [True, False, False]
        assert state([*stop, WentOn(at(27, 9, 30))], at(27, 10)).needs_giving
        assert not state([*stop, WentOn(at(27, 9, 30)), Ready(at(27, 9, 40))], at(27, 10)).needs_giving

    def test_the_first_service_is_that_before_the_first_change(self):
        events = [*STARTED, ServiceChanged(at(27), "repair", before="verify")]
        found = state(events, at(27), terms=Terms(service="repair", days={"verify": 1, "repair": 5}))
        assert found.promised_on == date(2026, 12, 4)
        assert state(events[:2], at(27), terms=Terms(service="verify", days={"verify": 1})).left == -1

    def test_stops_move_a_given_promise_too(self):
        events = [*GIVEN, Stopped(at(25, 9), "parts"), WentOn(at(27, 9))]
        found = state(events, at(27, 10))
        assert (found.promised_on, found.needs_giving) == (date(2026, 12, 3), True)
        again = state([*events, PromiseGiven(at(27, 10), date(2026, 12, 3))], at(30))
        assert (again.promised_on, again.needs_giving) == (date(2026, 12, 3), False)

    def test_a_stop_moves_a_promise_whose_day_was_closed_later_from_where_it_was(self):
        changed = ShopCalendar(closures=(Closure(THE_2ND, THE_2ND, "inventory"),))
        events = [*GIVEN, Stopped(at(25, 9), "parts"), WentOn(at(27, 9))]
        assert state(events, at(27, 10), shop=changed).promised_on == date(2026, 12, 3)

    def test_an_earlier_day_agreed_with_the_owner_is_no_risk_of_the_calendar(self):
        rush = [*STARTED, PromiseGiven(at(24, 9, 5), date(2026, 11, 25), counted=THE_2ND)]
        found = state(rush, at(24, 12))
        assert (found.promised_on, found.left, found.risks) == (date(2026, 11, 25), 1, ())

    def test_a_day_told_before_the_box_came_is_kept_and_its_risk_shows(self):
        events = [PromiseGiven(at(20), date(2026, 11, 30)), *STARTED]
        found = state(events, at(24, 12))
        assert found.promised_on == date(2026, 11, 30)
        assert "2 business days less" in found.risks[0]
        waiting = state(events[:1], at(23))
        assert waiting.status == "not-started"
        assert promise_in_words(waiting, SHOP).endswith("the clock starts when these are here: the box, the paperwork.")


class TestTerms:
    """Days of the service, of the owner, and what the day means."""

    def test_delivered_adds_the_days_on_the_road(self):
        terms = Terms(means="delivered", transit_days=2)
        found = state(STARTED, at(24, 12), terms=terms)
        assert (found.promised_on, found.ready_by) == (date(2026, 12, 4), THE_2ND)
        assert promise_in_words(found, SHOP) == (
            "Promised for Friday 4 December 2026, delivered: 7 business days left."
        )

    def test_a_service_without_days_is_refused_with_those_that_have(self):
        with pytest.raises(BadTermsError, match="no days are set for service “paint”; set: verify"):
            state([*STARTED, ServiceChanged(at(24, 10), "paint")], at(25))


class TestEnd:
    """Ready or delivered ends it, in time or late; dropped ends it without a debt."""

    def test_ready_in_time_is_kept(self):
        found = state([*GIVEN, Ready(in_december(1))], in_december(20))
        assert (found.status, found.late_by, found.left, found.used) == ("done", 0, 1, 4)
        assert promise_in_words(found, SHOP) == (
            "Promised for Wednesday 2 December 2026, ready to ship: ready Tuesday 1 December 2026, kept."
        )

    def test_the_promised_day_is_kept_until_it_ends(self):
        assert not state(GIVEN, in_december(2, 23, 59)).is_late
        assert promise_in_words(state(GIVEN, in_december(2)), SHOP).endswith(": due today.")
        assert state(GIVEN, in_december(3, 0)).late_by == 1

    def test_late_is_said_in_business_days(self):
        friday = [*STARTED, PromiseGiven(at(24, 9, 5), date(2026, 11, 27))]
        assert [state(friday, at(day)).late_by for day in (27, 28, 29, 30)] == [0, 1, 1, 1]
        found = state([*GIVEN, Ready(in_december(4))], in_december(20))
        assert found.late_by == 2
        assert promise_in_words(found, SHOP).endswith("ready Friday 4 December 2026, late by 2 business days.")

    def test_what_was_late_before_a_stop_stays_as_late(self):
        events = [*GIVEN, Stopped(in_december(4, 10), "owner")]
        moments = [(4, 11), (4, 20), (5, 9), (7, 1), (7, 12), (8, 9)]
        assert {state(events, in_december(day, hour)).late_by for day, hour in moments} == {2}
        assert "late by 2 business days; stopped since" in promise_in_words(state(events, in_december(7)), SHOP)

    def test_ready_that_is_ready_no_longer_runs_on(self):
        events = [*GIVEN, Ready(in_december(1)), NoLongerReady(in_december(1, 15))]
        assert state(events, in_december(3)).late_by == 1
        assert state([*events, Ready(in_december(4))], in_december(9)).late_by == 2

    def test_delivered_is_the_end_of_a_promise_to_deliver_and_a_payment_hold_stops_it(self):
        terms = Terms(means="delivered", transit_days=1)
        ready = [*STARTED, Ready(in_december(1, 8)), Stopped(in_december(1, 8), "payment")]
        assert state(ready, in_december(2, 8), terms=terms).stands
        done = [*ready, WentOn(in_december(2, 8)), Delivered(in_december(4))]
        found = state(done, in_december(9), terms=terms)
        assert (found.status, found.promised_on, found.late_by) == ("done", date(2026, 12, 4), 0)

    def test_a_stop_after_the_end_costs_nothing(self):
        found = state([*GIVEN, Ready(in_december(1)), Stopped(in_december(1, 10), "payment")], in_december(9))
        assert (found.status, found.moved_days, found.promised_on) == ("done", 0, THE_2ND)

    def test_dropped_owes_nothing(self):
        found = state([*GIVEN, Dropped(in_december(1))], in_december(20))
        assert (found.status, found.late_by, found.risks) == ("dropped", 0, ())
        assert promise_in_words(found, SHOP) == "Nothing is owed any more: the job was dropped."
        assert state([*GIVEN, Dropped(in_december(10))], in_december(20)).late_by == 0

    def test_done_without_any_promise(self):
        found = state([BoxArrived(at(24)), Delivered(at(25))], at(27))
        assert promise_in_words(found, SHOP) == "No day was promised; done Wednesday 25 November 2026, 09:00."


class TestOddEvents:
    """Events out of order, in the future, without a beginning or without a time zone."""

    def test_the_order_in_which_events_come_does_not_matter(self):
        events = [*GIVEN, Stopped(at(25, 9), "parts"), WentOn(at(27, 9))]
        assert state(events[::-1], at(30)) == state(events, at(30))

    def test_an_event_in_the_future_is_left_out_and_named(self):
        found = state([*GIVEN, Ready(in_december(1))], at(30))
        assert found.status == "running"
        assert found.notices == (
            "1 event is dated in the future, from Tuesday 1 December 2026, 09:00, and not counted yet.",
        )

    def test_an_end_of_a_stop_that_never_began_is_named(self):
        found = state([*GIVEN, WentOn(at(25), "parts")], at(30))
        assert found.notices == (
            "It went on at Wednesday 25 November 2026, 09:00 (waiting for parts), but nothing was stopped then.",
        )

    def test_moments_without_a_time_zone_are_refused(self):
        naive = at(24).replace(tzinfo=None)
        with pytest.raises(BadEventError, match="now"):
            state(GIVEN, naive)

    def test_nothing_at_all_is_a_clock_that_has_not_started(self):
        found = state([], at(24))
        assert (found.status, found.promised_on, found.used, found.left) == ("not-started", None, 0, None)


class TestClockChanges:
    """The clock on the wall is changed in the middle of a job."""

    @pytest.mark.parametrize(("month", "day"), [(3, 6), (10, 30)])
    def test_days_are_days_of_the_wall(self, month, day):
        events = [BoxArrived(at(day, 14, 30, month)), PaperworkComplete(at(day, 14, 30, month))]
        after = state(events, at(day, 14, 30, month) + timedelta(days=5), terms=Terms(days={"verify-adjust": 2}))
        assert after.promised_on == date(2026, month, day) + timedelta(days=4)

    def test_a_stop_over_the_changed_night_costs_what_any_weekend_costs(self):
        for month, friday in [(3, 6), (10, 30)]:
            events = [BoxArrived(at(friday, 8, 0, month)), PaperworkComplete(at(friday, 8, 0, month))]
            monday = at(friday, 12, 30, month).astimezone(UTC) + timedelta(days=3)
            monday = monday.astimezone(SHOP.zone).replace(hour=12, minute=30)
            found = state([*events, Stopped(at(friday, 12, 30, month)), WentOn(monday)], monday)
            assert found.stops[0].stood == 1

    def test_the_two_passes_of_the_doubled_hour_are_told_apart(self):
        night = ShopCalendar(
            opens=at(1, 0).time(), closes=at(1, 4).time(), cut_off=at(1, 4).time(), weekdays=range(7), country=""
        )
        first, second = at(1, 1, 30), at(1, 1, 30).replace(fold=1)
        events = [BoxArrived(at(1, 0)), PaperworkComplete(at(1, 0)), WentOn(second), Stopped(first)]
        (stop,) = state(events, at(1, 3), shop=night).stops
        assert stop.stood == pytest.approx(1 / 5)
