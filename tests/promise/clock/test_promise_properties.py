"""What holds of every promise, whatever happens: it never counts backwards, and only what stood moves it."""

from dataclasses import is_dataclass
from datetime import UTC, datetime, time, timedelta
from fractions import Fraction
from math import ceil, floor
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from flueproof.promise.calendar.shop_calendar import Closure, ShopCalendar
from flueproof.promise.clock.events import (
    BoxArrived,
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
from flueproof.promise.clock.standing import Span, stood
from flueproof.promise.clock.terms import Terms

NIGHTS = ShopCalendar(opens=time(0), closes=time(23), cut_off=time(12), weekdays=frozenset(range(7)), country="")
SHOPS = [ShopCalendar(), ShopCalendar(time_zone="Europe/Berlin", country="DE", region="BY"), NIGHTS]
TERMS = Terms(means="delivered", transit_days=1)
BEGIN = datetime(2026, 10, 22, 6, 0, tzinfo=UTC)
MINUTES = 30 * 24 * 60
shops = st.sampled_from(SHOPS)
minutes = st.integers(0, MINUTES)
reasons = st.sampled_from(["owner", "parts", "payment"])


def after(minute):
    return BEGIN + timedelta(minutes=minute)


def in_utc(value):
    """Return a state with all its moments in UTC: of two zones, the doubled hour is never equal to itself (PEP 495)."""
    if isinstance(value, datetime):
        return value.astimezone(UTC)
    if isinstance(value, tuple):
        return [in_utc(one) for one in value]
    return {name: in_utc(one) for name, one in vars(value).items()} if is_dataclass(value) else value


moments = minutes.map(after)
stopping = st.builds(Stopped, moments, reasons, st.sampled_from(["", "hose?"]))
going_on = st.builds(WentOn, moments, st.sampled_from(["", "owner", "parts", "payment"]))
paper = st.builds(PaperworkIncomplete, moments) | st.builds(PaperworkComplete, moments)
service = st.builds(ServiceChanged, moments, st.sampled_from(["verify", "repair"]))
readiness = st.builds(Ready, moments) | st.builds(NoLongerReady, moments)
lives = st.lists(stopping | going_on | paper | service | readiness, max_size=10).map(
    lambda told: [BoxArrived(BEGIN), PaperworkComplete(BEGIN), *told]
)


@settings(deadline=None, max_examples=150)
@given(shops, lives, moments, moments)
def test_the_promise_never_goes_backwards_as_time_goes_on(shop, life, one, other):
    first, later = sorted([one, other])
    assert promise_state(life, TERMS, shop, first).promised_on <= promise_state(life, TERMS, shop, later).promised_on


@settings(deadline=None, max_examples=100)
@given(shops, lives, moments, moments)
def test_writing_the_day_down_changes_nothing_later(shop, life, one, other):
    when, later = sorted([one, other])
    told = promise_state(life, TERMS, shop, when)
    written = [*life, PromiseGiven(when, told.promised_on, counted=told.counted_on)]
    assert promise_state(written, TERMS, shop, later).promised_on == promise_state(life, TERMS, shop, later).promised_on


@settings(deadline=None, max_examples=100)
@given(shops, lives, moments, st.lists(st.integers(-5, 40), max_size=4), st.integers(0, 12))
def test_a_given_promise_stays_whatever_calendar_and_terms_become(shop, life, when, closed, days):
    told = promise_state(life, TERMS, shop, when)
    written = [*life, PromiseGiven(when, told.promised_on, counted=told.counted_on)]
    closures = tuple(Closure(day, day, "added") for day in (when.date() + timedelta(days=one) for one in closed))
    changed = ShopCalendar(shop.time_zone, shop.country, shop.region, shop.weekdays, closures)
    terms = Terms(days={"verify": days, "verify-adjust": days, "repair": days})
    found = promise_state(written, terms, changed, when)
    assert found.promised_on == told.promised_on
    assert not found.needs_giving


@settings(deadline=None, max_examples=100)
@given(shops, lives, moments, minutes, minutes, minutes)
def test_a_stop_cut_in_two_is_the_same_stop(shop, life, now, a, b, c):
    """Apart from a going-on for every reason, which ends the whole but not the part that begins after it."""
    life = [event for event in life if not (isinstance(event, WentOn) and not event.why)]
    begin, cut, end = sorted([a, b, c])
    whole = [*life, Stopped(after(begin), "other-shop"), WentOn(after(end), "other-shop")]
    parts = [
        *life,
        Stopped(after(begin), "other-shop"),
        WentOn(after(cut), "other-shop"),
        Stopped(after(cut), "other-shop"),
        WentOn(after(end), "other-shop"),
    ]
    one, two = (promise_state(told, TERMS, shop, now) for told in (whole, parts))
    assert (one.promised_on, one.moved_days, one.carried) == (two.promised_on, two.moved_days, two.carried)


@settings(deadline=None, max_examples=100)
@given(shops, lives, moments, minutes, minutes)
def test_one_more_stop_never_brings_the_promise_forward(shop, life, now, a, b):
    more = [*life, Stopped(after(min(a, b)), "other-shop"), WentOn(after(max(a, b)), "other-shop")]
    assert promise_state(more, TERMS, shop, now).promised_on >= promise_state(life, TERMS, shop, now).promised_on


@settings(deadline=None, max_examples=100)
@given(shops, lives, moments)
def test_it_moves_by_what_stood_to_within_a_part_day(shop, life, now):
    found = promise_state(life, TERMS, shop, now)
    exact = found.moved_days + found.carried
    assert floor(exact) <= found.moved_days <= ceil(exact)
    assert sum(stop.moved for stop in found.stops) == found.moved_days
    assert exact <= sum((stop.stood for stop in found.stops), Fraction(0))
    assert all(stop.moved >= 0 for stop in found.stops)


@settings(deadline=None, max_examples=100)
@given(shops, lives, moments, st.sampled_from(["Pacific/Kiritimati", "Pacific/Pago_Pago", "America/New_York"]))
def test_the_time_zone_of_who_asks_or_writes_changes_no_day(shop, life, now, zone):
    elsewhere = ZoneInfo(zone)
    moved = [type(event)(**{**vars(event), "at": event.at.astimezone(elsewhere)}) for event in life]
    there = promise_state(moved, TERMS, shop, now.astimezone(elsewhere))
    assert in_utc(there) == in_utc(promise_state(life, TERMS, shop, now))


@settings(deadline=None, max_examples=60)
@given(shops, lives, moments, st.randoms(use_true_random=False))
def test_the_order_of_telling_does_not_matter(shop, life, now, chance):
    distinct = list({event.at: event for event in life[1:]}.values())
    shuffled = chance.sample(distinct, len(distinct))
    assert promise_state(shuffled, TERMS, shop, now) == promise_state(distinct, TERMS, shop, now)


@settings(deadline=None, max_examples=100)
@given(shops, moments, moments)
def test_what_was_in_time_when_it_stopped_does_not_get_late_while_it_stands(shop, one, other):
    stopped, now = sorted([one, other])
    life = [BoxArrived(BEGIN), PaperworkComplete(BEGIN), Stopped(stopped)]
    if not promise_state(life, Terms(), shop, stopped).is_late:
        found = promise_state(life, Terms(), shop, now)
        assert not found.is_late
        assert found.left >= 0


spans = st.tuples(minutes, minutes).map(lambda pair: Span(after(min(pair)), after(max(pair))))


@settings(deadline=None, max_examples=100)
@given(shops, st.lists(spans, max_size=5), st.lists(spans, max_size=5))
def test_standing_is_a_measure_of_time_without_overlap(shop, some, others):
    together = stood(shop, [*some, *others])
    assert max(stood(shop, some), stood(shop, others)) <= together <= stood(shop, some) + stood(shop, others)
