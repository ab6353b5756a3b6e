"""Stops from events, and what each of them cost."""

from datetime import UTC, datetime

from flueproof.promise.calendar.shop_calendar import ShopCalendar
from flueproof.promise.clock.events import PaperworkComplete, PaperworkIncomplete, Stopped, WentOn
from flueproof.promise.clock.stops import StopBook, costed, spans_of

SHOP = ShopCalendar()


def at(day, hour):
    return datetime(2026, 11, day, hour, tzinfo=SHOP.zone).astimezone(UTC)


def book_of(*events, started=True):
    book = StopBook()
    for event in events:
        book.note(event, started=started)
    return book


def ends(book):
    return [(stop.why, stop.since, stop.until) for stop in book.stops]


def test_each_reason_has_its_own_stop():
    book = book_of(Stopped(at(24, 9), "owner"), Stopped(at(24, 10), "parts"), WentOn(at(24, 11), "owner"))
    assert ends(book) == [("owner", at(24, 9), at(24, 11)), ("parts", at(24, 10), None)]


def test_going_on_without_a_reason_ends_all():
    book = book_of(Stopped(at(24, 9), "owner"), Stopped(at(24, 10), "parts"), WentOn(at(24, 11)))
    assert {stop.until for stop in book.stops} == {at(24, 11)}
    assert book.stray == []


def test_going_on_for_a_reason_that_does_not_stand_is_kept_apart():
    astray = WentOn(at(24, 11), "parts")
    assert book_of(Stopped(at(24, 9), "owner"), astray).stray == [astray]


def test_the_same_words_are_not_said_twice():
    book = book_of(Stopped(at(24, 9), words="hose"), Stopped(at(24, 10), words="hose"), Stopped(at(24, 11)))
    assert [stop.words for stop in book.stops] == ["hose"]


def test_a_reason_may_stop_it_again_later():
    book = book_of(Stopped(at(24, 9)), WentOn(at(24, 10)), Stopped(at(24, 11)))
    assert [stop.until for stop in book.stops] == [at(24, 10), None]


def test_missing_paperwork_is_a_stop_only_after_the_start():
    told = PaperworkIncomplete(at(24, 9), "limits"), PaperworkComplete(at(24, 10))
    assert ends(book_of(*told)) == [("paperwork", at(24, 9), at(24, 10))]
    assert book_of(*told, started=False).stops == []


def test_what_overlaps_is_charged_to_the_stop_that_stood_first():
    book = book_of(Stopped(at(23, 8), "owner"), Stopped(at(24, 8), "parts"), WentOn(at(25, 8), "owner"))
    costs = costed(SHOP, book.stops, at(20, 8), at(27, 17))
    assert [(stop.stood, stop.moved) for stop in costs] == [(2, 2), (3, 2)]


def test_only_what_lies_between_start_and_end_costs():
    book = book_of(Stopped(at(20, 8)), WentOn(at(24, 8)), Stopped(at(27, 8)))
    costs = costed(SHOP, book.stops, at(23, 8), at(25, 17))
    assert [(stop.stood, stop.moved) for stop in costs] == [(1, 1), (0, 0)]
    assert costed(SHOP, [], at(23, 8), at(25, 17)) == ()


def test_a_stop_that_stands_lasts_until_the_moment_of_asking():
    (span,) = spans_of(book_of(Stopped(at(24, 9))).stops, at(25, 9))
    assert (span.since, span.until) == (at(24, 9), at(25, 9))
