"""What a careful reader of a record would ask about (own rules; trade practice)."""

import pytest

from flueproof.bench.oddities import oddities

CO = "cyl-co-500"


@pytest.fixture(name="codes")
def _codes(read):
    return lambda visit: [(note.code, note.blocks) for note in oddities(*read(visit))]


def test_a_plain_visit_has_none(visit, codes):
    assert codes(visit()) == []


def test_received_after_the_work(visit, codes):
    assert codes(visit(received={"date": "2026-11-20"})) == [("received-after-work", False)]


@pytest.mark.parametrize(("entered", "said"), [(502, []), (503, []), (520, [("entered-otherwise", False)])])
def test_a_value_entered_that_is_not_the_bottles(start, codes, entered, said):
    visit = start()
    value = {"unit": "ppm", "value": entered}
    visit.happening("adjust", channel="co", reference=CO, entered=value, accepted=True)
    assert codes(visit) == said


@pytest.mark.parametrize("name", ["Altitude", "barometric pressure", "O2 offset"])
def test_a_setting_that_enters_the_readings_stops_the_signing_until_gas_was_on(visit, judge, codes, name):
    bench = visit()
    bench.happening("settings", changed={name: "1500 m"})
    assert codes(bench) == [("settings-after-gas", True)]
    assert ("settings-after-gas", True) in [(note.code, note.blocks) for note in judge(bench).notes]
    bench.test_gas(CO, "tip")
    assert codes(bench) == []


@pytest.mark.parametrize("name", ["fuel", "date", "language"])
def test_another_setting_changes_no_reading(visit, codes, name):
    bench = visit()
    bench.happening("settings", changed={name: "x"})
    assert codes(bench) == []
