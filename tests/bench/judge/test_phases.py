"""One phase judged, before its verdict: limits of the owner, what fits together, room air as a zero."""

import dataclasses

import pytest

from flueproof.bench.bundle import EMPTY_BUNDLE
from flueproof.bench.judge.gathering import gather
from flueproof.bench.judge.phases import _zeros, judge_phase, with_owner_limits
from flueproof.bench.judge.validity import validity_of
from flueproof.metrology.conformity import decision_rule
from flueproof.simulate.physics.sensing import Room

CO = "cyl-co-500"


@pytest.fixture(name="phase")
def _phase(read):
    def judged(visit, name="as-found", **more):
        record, profile = read(visit)
        profile = with_owner_limits(record, profile)
        measured, validity = gather(record, profile, EMPTY_BUNDLE), validity_of(record, profile)
        rule = decision_rule("simple")
        return judge_phase(name, record, profile, measured, validity, rule, EMPTY_BUNDLE, **{"no_probe": False} | more)

    return judged


def test_each_phase_holds_its_own_readings_only(start, phase):
    visit = start()
    visit.test_gas(CO, "tip")
    visit.part("probe hose", visit.truth)
    visit.as_left()
    visit.test_gas("can-co-100", "tip")
    assert {point.step for point in phase(visit).points} == {"s3"}
    assert {point.step for point in phase(visit, "as-left").points} == {"s5"}


def test_an_unfit_application_is_never_averaged_with_a_fit_one(start, phase):
    visit = start()
    visit.test_gas(CO, "tip", supply_l_min=0.3)
    visit.test_gas(CO, "tip")
    points = [point for point in phase(visit).points if point.channel == "co"]
    assert [(point.steps, point.counts) for point in points] == [(("s3",), False), (("s4",), True)]
    assert points[1].settled > 2 * points[0].settled


def test_an_unfit_application_says_nothing_of_the_path(start, phase):
    visit = start()
    visit.test_gas(CO, "tip", supply_l_min=0.3)
    assert phase(visit).path.products is None


def test_limits_of_the_profile_stay_where_the_owner_sets_none(start, read):
    record, profile = read(start())
    assert with_owner_limits(record, profile) is profile


def test_the_owners_limits_leave_the_rest_of_the_profile_as_it_is(start, read):
    record, profile = read(start(order={"limits": {"co": {"percent": 5.0, "of": "reference"}}}))
    changed = with_owner_limits(record, profile)
    assert changed.channels["co"].limit_at(500.0, "as-found").value == pytest.approx(25.0)
    assert changed.channels["o2"] == profile.channels["o2"]
    assert dataclasses.replace(changed, channels=profile.channels) == profile


@pytest.mark.parametrize("co_ppm", [0.0, 9.0, 40.0])
def test_co_in_the_room_is_known_to_the_path_as_a_zero(start, phase, co_ppm):
    visit = start(room=Room(co_ppm=co_ppm))
    visit.test_gas(CO, "tip")
    products = phase(visit).path.products
    assert products.value("co", "zero") == pytest.approx(-co_ppm)
    assert products.u("co", "zero") == pytest.approx(1.0)


def test_without_a_room_log_the_zero_is_hardly_known(start, phase):
    visit = start()
    visit.test_gas(CO, "tip")
    visit.steps.pop(0)
    assert phase(visit).path.products.u("co", "zero") == pytest.approx(3.0)


def test_each_phase_takes_the_room_in_which_it_was_last_zeroed(start, phase):
    """CO in the morning's room, clean air at noon: only the morning's zero is off."""
    visit = start(room=Room(co_ppm=20.0))
    visit.test_gas(CO, "tip")
    visit.part("probe hose", visit.truth)
    visit.room_air = Room(co_ppm=0.0)
    visit.room()
    visit.zeroing()
    visit.as_left()
    visit.test_gas(CO, "tip")
    assert phase(visit).path.products.value("co", "zero") == pytest.approx(-20.0)
    assert phase(visit, "as-left").path.products.value("co", "zero") == pytest.approx(0.0)


def test_a_channel_that_is_not_zeroed_in_air_takes_no_zero_from_the_room(start, read):
    record, profile = read(start(room=Room(co_ppm=20.0)))
    channels = {**profile.channels, "co": dataclasses.replace(profile.channels["co"], zeroed_in_air=False)}
    zeros = _zeros("as-found", record, dataclasses.replace(profile, channels=channels))
    assert [(zero.value, zero.u) for zero in zeros if zero.channel == "co"] == [(0.0, 3.0)]


class TestWhatCounts:
    """The statement rests on the owner's path and on what the procedure asks for straight at the inlet."""

    def statements(self, judge, three_cells, **shown):
        said = judge(three_cells(**shown))
        return said, {(p.channel, p.reference): (p.counts, p.statement) for p in said.points if p.channel != "o2"}

    def test_a_required_point_at_the_inlet_counts(self, judge, three_cells):
        said, points = self.statements(judge, three_cells, high=800)
        assert points["co", 1000.0] == (True, "not-conform")
        assert said.as_found.outcome == "outside-as-ordered"

    def test_a_required_point_at_the_inlet_that_is_too_close_to_call_keeps_the_unit_open(self, judge, three_cells):
        said, points = self.statements(judge, three_cells, low=55)
        assert points["co", 50.0] == (True, "undecided")
        assert said.as_found.outcome == "work-needed"

    def test_all_inside_is_ready(self, judge, three_cells):
        said, points = self.statements(judge, three_cells)
        assert set(points.values()) == {(True, "conform")}
        assert said.as_found.outcome == "ready-to-sign"


@pytest.fixture(name="three_cells")
def _three_cells():
    """Return records of a verification of three cells, every required point done; `low`, `high`: CO at the inlet."""

    def made(low=50, high=1000):
        gases = (
            ("co", 500.0, "tip", {"co": 500, "no": 0}),
            ("co", 50.0, "instrument", {"co": low, "no": 0}),
            ("co", 1000.0, "instrument", {"co": high, "no": 0}),
            ("no", 50.0, "instrument", {"co": 0, "no": 50}),
            ("no", 200.0, "tip", {"co": 0, "no": 200}),
            ("no", 800.0, "instrument", {"co": 0, "no": 800}),
        )
        return _record_of_three_cells(gases)

    return made


def _record_of_three_cells(gases):
    references, steps = dict(_INSTRUMENTS), []

    def add(kind, **content):
        at = f"2026-11-03T{9 + len(steps) // 6:02d}:{10 * (len(steps) % 6):02d}:00-05:00"
        steps.append({"id": f"s{len(steps) + 1}", "at": at, "by": "tester", "kind": kind, **content})

    def measure(kind, **content):
        add(kind, phase="as-found", **content)

    add("room", air={"unit": "degC", "value": 22.0}, humidity_pct=40, pressure_hpa=1010.0, room_co_ppm=0)
    add("zeroing", where="bench")
    for gas, content, feed, shown in gases:
        key = f"{gas}-{content:g}"
        references[key] = _blend(gas, content)
        readings = [{"channel": "o2", "unit": "%", "step": 0.1, "shown": [0.1]}]
        readings += [{"channel": name, "unit": "ppm", "step": 1, "shown": [value]} for name, value in shown.items()]
        offered = {"supply_l_min": 2.0, "vent_open": True}
        measure("test-gas", reference=key, path={"feed": feed}, feed=offered, readings=readings)
    hot = [{"channel": "stack", "unit": "degC", "step": 1, "shown": [200]}]
    value = {"unit": "degC", "value": 200.0}
    measure("temperature", channel="stack", of="probe", reference="therm", reference_value=value, readings=hot)
    pull = [{"channel": "draft", "unit": "Pa", "step": 1, "shown": [-25]}]
    measure("pressure", channel="draft", reference="mano", reference_value={"unit": "Pa", "value": -25}, readings=pull)
    measure("plug-test", path={"feed": "tip"}, pump="stalls")
    return {
        "format": "flueproof-bench-record/1",
        "job": "J-1",
        "shop": {"name": "Bench (invented)"},
        "owner": {"name": "Owner (invented)"},
        "order": {"service": "verify"},
        "received": {"date": "2026-11-02"},
        "analyzer": {
            "make": "Orrin (invented)",
            "model": "Orrin 7 (invented)",
            "serial": "O7-1",
            "profile": {"name": "three-cell-light-commercial", "version": "1"},
        },
        "references": references,
        "steps": steps,
    }


def _blend(gas, content):
    part = {"unit": "ppm", "value": content, "expanded_uncertainty": content / 100, "k": 2.0}
    dates = {"certified": "2026-02-01", "expires": "2028-02-01"}
    return {"kind": "test-gas", "certificate": "LN-1", "balance": "nitrogen", "components": {gas: part}, **dates}


_INSTRUMENTS = {
    "therm": {
        "kind": "thermometer",
        "certificate": "T-1",
        "unit": "degC",
        "expanded_uncertainty": 0.3,
        "k": 2.0,
        "due": "2027-05-01",
    },
    "mano": {
        "kind": "manometer",
        "certificate": "P-1",
        "unit": "Pa",
        "expanded_uncertainty": 0.4,
        "k": 2.0,
        "due": "2027-05-01",
    },
}
