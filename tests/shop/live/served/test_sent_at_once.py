"""The same thing sent at the same time over several lines: it is stored once, and every sender hears so."""

import json
from concurrent.futures import ThreadPoolExecutor

from .bench_online import TOKEN, ask

SENDERS = 6
STORED = """
import json, sys
from flueproof.shop.records.models import Reading
rows = Reading.objects.filter(source=sys.argv[1]).order_by("sequence")
print(json.dumps([list(row) for row in rows.values_list("sequence", "shown")]))
"""


def stored(served, source):
    return json.loads(served.python(STORED, source))


def at_once(act, times=SENDERS):
    with ThreadPoolExecutor(times) as pool:
        return [one.result() for one in [pool.submit(act, number) for number in range(times)]]


def test_the_same_batch_over_several_lines_is_stored_once(served, place):
    place.begin()
    answers = []
    for batch in range(8):
        answers += at_once(lambda _number, first=1 + 5 * batch: place.deliver(*range(5), first=first))
    assert {status for status, _ in answers} == {200}
    assert sum(answer["stored"] for _, answer in answers) == 40
    assert sum(answer["repeated"] for _, answer in answers) == 40 * (SENDERS - 1)
    assert stored(served, f"bench-{place.number}") == [[number, (number - 1) % 5] for number in range(1, 41)]


def test_batches_that_overlap_are_stored_once_each_reading(served, place):
    place.begin()
    answers = at_once(lambda number: place.deliver(*range(10), first=1 + 3 * number))
    assert {status for status, _ in answers} == {200}
    assert [answer["acknowledged"] for _, answer in answers] == [10 + 3 * number for number in range(SENDERS)]
    found = [number for number, _ in stored(served, f"bench-{place.number}")]
    assert found == list(range(1, 26))
    assert sum(answer["stored"] for _, answer in answers) == 25


def test_two_stations_with_the_same_agent_by_mistake_store_each_number_once(served, place):
    """A token names the station, the agent its numbers; a spool that was copied meets itself."""
    row = {"sequence": 1, "at": "2026-11-25T14:00:10Z", "channel": "co", "unit": "ppm", "step": 1, "shown": 7}
    body = {"agent": f"copied-{place.number}", "readings": [row]}

    def deliver(number):
        headers = {"Authorization": f"Bearer {TOKEN}{number}"}
        return ask(f"{place.address}/capture/readings", body, headers, 30)

    assert {status for status, _ in at_once(deliver)} == {200}
    assert stored(served, f"copied-{place.number}") == [[1, 7]]


def test_the_same_typed_value_over_several_lines_is_stored_once_and_acknowledged_to_all(served, place):
    place.begin()
    source = f"page-once-{place.number}"
    answers = [
        one
        for sequence in range(1, 7)
        for one in at_once(lambda _number, at=sequence: place.type(30, str(at), sequence=at, source=source))
    ]
    assert {status for status, _ in answers} == {200}
    assert stored(served, source) == [[number, float(number)] for number in range(1, 7)]


def test_of_two_values_under_one_number_one_is_kept_and_the_other_refused_in_words(served, place):
    place.begin()
    source = f"page-two-{place.number}"
    answers = at_once(lambda number: place.type(30, str(number), sequence=1, source=source))
    assert sorted(status for status, _ in answers) == [200] + [409] * (SENDERS - 1)
    assert all("load the page anew" in answer["error"]["message"] for status, answer in answers if status == 409)
    ((_, kept),) = stored(served, source)
    assert [kept] == [float(number) for number, (status, _) in enumerate(answers) if status == 200]


def test_the_key_of_the_timer_pressed_on_several_screens_starts_it_once(place):
    status, made = place.ask(f"/live/{place.visit}/begin", {"kind": "ambient-air"})
    assert status == 201
    answers = at_once(lambda number: place.ask(f"/live/run/{made['application']}/gas-on", {"ago_s": number}))
    assert {status for status, _ in answers} == {200}
    again = place.ask(f"/live/run/{made['application']}/gas-on", {"ago_s": 3000})[1]["on_for_ms"]
    assert again < 60_000


def test_a_measurement_begun_and_recorded_on_several_screens_is_there_once(served, place):
    begun = at_once(lambda _number: place.ask(f"/live/{place.visit}/begin", {"kind": "ambient-air"}))
    assert sorted(status for status, _ in begun) == [201] + [422] * (SENDERS - 1)
    (place.application,) = [made["application"] for status, made in begun if status == 201]
    place.ask(f"/live/run/{place.application}/gas-on", {})
    place.type(0, "0", sequence=1, source=f"page-fin-{place.number}")
    ended = at_once(lambda _number: place.ask(f"/live/run/{place.application}/finish", {}))
    assert {status for status, _ in ended} == {200}
    assert len({made["position"] for _, made in ended}) == 1
