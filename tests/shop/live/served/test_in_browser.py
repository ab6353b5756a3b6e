"""The live panel in a real browser: the network goes while values are typed, several tabs type, the server restarts."""

import json

import pytest
from playwright.sync_api import expect

from .bench_online import shows

pytestmark = pytest.mark.browser

STORED = """
import json, sys
from flueproof.shop.records.models import Reading
rows = Reading.objects.filter(application_id=int(sys.argv[1])).order_by("id")
print(json.dumps([[row.source, row.sequence, row.shown] for row in rows]))
"""
AWAY = "The shop's computer does not answer"


def stored(served, place):
    """Return (source, sequence, shown) of what a measurement has, as it came in."""
    return json.loads(served.python(STORED, str(place.application)))


def posts_of(page):
    """Return the list that will hold the bodies of typed values as they go out and are answered."""
    sent = []
    page.on("requestfinished", lambda one: sent.append(one.post_data_json) if one.url.endswith("/type") else None)
    return sent


def field(page, mark, channel="co"):
    return page.locator(f'[data-typed][data-channel="{channel}"][data-mark="{mark}"]')


def type_into(page, mark, shown):
    field(page, mark).fill(shown)
    field(page, mark).press("Enter")


def test_what_is_typed_while_the_network_is_away_is_sent_once_and_in_order_when_it_is_back(served, place, at_bench):
    place.begin()
    page = at_bench(place)
    type_into(page, 0, "1")
    expect(field(page, 0)).to_have_attribute("data-state", "kept")
    sent = posts_of(page)
    page.context.set_offline(True)
    for mark, shown in ((30, "3"), (60, "4"), (90, "OVER")):
        type_into(page, mark, shown)
    expect(page.locator(".live-queue")).to_contain_text(f"{AWAY}: 3 entered here")
    assert len(stored(served, place)) == 1
    page.context.set_offline(False)
    for mark in (30, 60, 90):
        expect(field(page, mark)).to_have_attribute("data-state", "kept", timeout=15_000)
    expect(page.locator(".live-queue")).to_be_hidden()
    rows = stored(served, place)
    assert [shown for _, _, shown in rows] == [1, 3, 4, "OVER"]
    assert [sequence for _, sequence, _ in rows] == sorted(sequence for _, sequence, _ in rows)
    assert [body["shown"] for body in sent] == ["3", "4", "OVER"]
    assert page.evaluate("localStorage.length") == 0


def test_recording_waits_for_what_is_still_on_this_device(served, place, at_bench):
    place.begin()
    page = at_bench(place)
    page.context.set_offline(True)
    type_into(page, 0, "1")
    expect(page.locator(".live-queue")).to_contain_text(AWAY)
    page.locator("form[data-finish] button").click()
    page.context.set_offline(False)
    page.locator(".live-recorded").wait_for(timeout=15_000)
    assert [shown for _, _, shown in stored(served, place)] == [1]


def test_a_tab_closed_without_network_leaves_its_values_to_the_next_one(served, place, at_bench):
    place.begin()
    page = at_bench(place)
    context = page.context
    context.set_offline(True)
    type_into(page, 0, "1")
    type_into(page, 30, "2")
    expect(page.locator(".live-queue")).to_contain_text("2 entered here")
    page.close()
    context.set_offline(False)
    page = at_bench(place)
    expect(field(page, 30)).to_have_value("2", timeout=15_000)
    assert [shown for _, _, shown in stored(served, place)] == [1, 2]


def test_what_came_too_late_is_told_and_not_silently_lost(served, place, at_bench):
    place.begin()
    page = at_bench(place)
    context = page.context
    context.set_offline(True)
    type_into(page, 30, "17")
    expect(page.locator(".live-queue")).to_contain_text("1 entered here")
    page.close()
    place.type(0, "1", sequence=1, source=f"page-late-{place.number}")
    place.finish()
    context.set_offline(False)
    page = at_bench(place)
    expect(page.locator("#messages")).to_contain_text("Entered earlier on this device and not kept: co 17 at 30 s")
    assert page.evaluate("localStorage.length") == 0


def test_two_tabs_type_into_the_same_measurement_and_see_each_other(served, place, at_bench):
    place.begin()
    one, two = at_bench(place), at_bench(place)
    type_into(one, 0, "1")
    expect(field(one, 0)).to_have_attribute("data-state", "kept")
    type_into(two, 30, "2")
    for page in (one, two):
        page.bring_to_front()
        expect(field(page, 0)).to_have_value("1")
        expect(field(page, 30)).to_have_value("2")
    type_into(two, 0, "3")  # corrects what the other entered; both stay in the table
    one.bring_to_front()
    expect(field(one, 0)).to_have_value("3")
    rows = stored(served, place)
    assert [shown for _, _, shown in rows] == [1, 2, 3]
    assert len({source for source, _, _ in rows}) == 2


def test_two_tabs_without_network_send_their_own_once_each(served, place, at_bench):
    place.begin()
    one, two = at_bench(place), at_bench(place)
    sent = [posts_of(one), posts_of(two)]
    one.context.set_offline(True)
    for mark, shown in ((0, "1"), (30, "2"), (60, "3")):
        type_into(one, mark, shown)
        type_into(two, mark + 30, f"1{shown}")
    expect(one.locator(".live-queue")).to_contain_text("6 entered here")
    one.context.set_offline(False)
    for page, mark in ((one, 60), (two, 90)):
        expect(field(page, mark)).to_have_attribute("data-state", "kept", timeout=15_000)
    assert [[body["shown"] for body in bodies] for bodies in sent] == [["1", "2", "3"], ["11", "12", "13"]]
    assert sorted(shown for _, _, shown in stored(served, place)) == [1, 2, 3, 11, 12, 13]


def test_signed_out_meanwhile_the_values_wait_for_the_next_sign_in(served, place, at_bench):
    place.begin()
    page = at_bench(place)
    kept = page.context.cookies()
    page.context.clear_cookies()
    type_into(page, 0, "1")
    expect(page.locator(".live-queue")).to_contain_text("Signed out: 1 entered here")
    assert stored(served, place) == []
    fresh = {"csrftoken": "d" * 32}  # signing in gives a new one; the one the page came with is worth nothing any more
    page.context.add_cookies([{**one, "value": fresh.get(one["name"], one["value"])} for one in kept])
    page = at_bench(place)
    expect(field(page, 0)).to_have_value("1", timeout=15_000)
    assert [shown for _, _, shown in stored(served, place)] == [1]


def test_the_page_goes_on_after_the_server_was_killed_and_started_again(served, place, at_bench):
    place.begin()
    page = at_bench(place)
    place.deliver(402)
    expect(page.locator(".digits").first).to_contain_text("402")
    served.kill()
    type_into(page, 30, "398")
    expect(page.locator(".live-queue")).to_contain_text(AWAY, timeout=15_000)
    served.start()
    place.deliver(403)
    expect(field(page, 30)).to_have_attribute("data-state", "kept", timeout=20_000)
    expect(page.locator(".digits").first).to_contain_text("403", timeout=40_000)
    assert shows("403")(place.poll()[1])


def test_where_no_stream_gets_through_the_page_polls_the_same_picture(place, at_bench):
    place.begin()
    page = at_bench(place)
    page.context.route("**/events", lambda route: route.abort())
    page.reload()
    page.locator("[data-typed]").first.wait_for()
    place.deliver(77)
    expect(page.locator(".digits").first).to_contain_text("77", timeout=15_000)


def test_a_second_screen_turns_to_what_begins_and_what_ends(place, at_bench):
    page = at_bench(place)
    page.goto(f"{place.address}/live/{place.visit}/follow")
    page.locator(".empty").wait_for()
    place.begin()
    place.deliver(402)
    expect(page.locator(".digits").first).to_contain_text("402", timeout=10_000)
    place.finish()
    page.locator(".empty").wait_for(timeout=10_000)
