import datetime as dt
import json

import pytest

from flueproof.bench.record.reader import read_record
from flueproof.simulate.errors import StepError
from flueproof.simulate.physics.sensing import Room
from flueproof.simulate.truth import Truth


def test_a_typed_application_has_five_looks_and_a_traced_one_a_look_a_second(visit_on, shown):
    typed, traced = visit_on(), visit_on(traced=True)
    typed.test_gas("cyl-co-500")
    traced.test_gas("cyl-co-500")
    assert typed.steps[-1]["readings"][0]["t_s"] == [0, 30, 60, 90, 120]
    assert traced.steps[-1]["readings"][0]["t_s"] == list(range(126))
    assert len(shown(traced, "co")) == 126


def test_a_leak_in_the_probe_shows_at_the_tip_and_not_at_the_instrument(visit_on, shown):
    visit = visit_on(Truth(dilution_probe=0.06))
    visit.test_gas("cyl-co-500", "tip")
    visit.test_gas("cyl-co-500", "instrument")
    visit.swap_test("cyl-co-500")
    assert shown(visit, "o2", -3)[-1] == pytest.approx(20.9 * 0.06, abs=0.2)
    assert shown(visit, "o2", -2)[-1] <= 0.2
    assert shown(visit, "o2", -1)[-1] <= 0.2
    assert visit.steps[-1]["kind"] == "swap-test"


def test_a_pinched_inlet_tells_a_leak_from_a_residual_current(visit_on, shown):
    leak, zero = visit_on(Truth(dilution_instrument=0.04)), visit_on(Truth(o2_zero_pct=20.9 * 0.04))
    for visit in (leak, zero):
        visit.test_gas("cyl-co-500", "instrument")
        visit.test_gas("cyl-co-500", "instrument", pinched=True)
    assert shown(leak, "o2", -2)[-1] == pytest.approx(shown(zero, "o2", -2)[-1], abs=0.2)
    assert shown(leak, "o2")[-1] > 2.0
    assert shown(zero, "o2")[-1] == pytest.approx(0.84, abs=0.2)


def test_a_zero_taken_in_co_is_missing_on_the_gas_and_clamped_in_air(visit_on, shown):
    visit = visit_on(room=Room(co_ppm=25.0))
    visit.room_air = Room(co_ppm=0.0)
    visit.ambient_air()
    assert shown(visit, "co") == [0, 0]
    visit.test_gas("can-co-100", "instrument", only_settled=True)
    assert shown(visit, "co")[-1] == pytest.approx(75.0, abs=4.0)


def test_too_little_supply_thins_the_gas(visit_on, shown):
    visit = visit_on(Truth(pump_flow_l_min=0.9))
    visit.test_gas("cyl-co-500", supply_l_min=0.6)
    assert shown(visit, "o2")[-1] == pytest.approx(20.9 / 3.0, abs=0.3)


def test_co_above_the_range_shows_text(visit_on, shown):
    visit = visit_on(profile="infrared-co2-co-high-range", references=("cyl-ir-high", "therm-1", "mano-1"))
    visit.test_gas("cyl-ir-high", "instrument")
    assert shown(visit, "co")[-1] == "OVER"
    assert shown(visit, "co_high")[-1] == pytest.approx(29900.0, rel=0.03)


def test_infrared_co2_reads_the_room_s_in_air(visit_on, shown):
    visit = visit_on(profile="infrared-co2-co-high-range")
    visit.ambient_air()
    assert all(value <= 0.2 for value in shown(visit, "co2"))
    visit.test_gas("cyl-co-500", "instrument")
    assert shown(visit, "co2")[-1] <= 0.2


def test_after_high_co_the_bench_purges_as_long_as_the_profile_asks(visit_on):
    visit = visit_on(profile="infrared-co2-co-high-range", references=("cyl-ir-high", "cyl-co-500", "mano-1"))
    visit.test_gas("cyl-ir-high", "instrument")
    began = dt.datetime.fromisoformat(visit.steps[-1]["at"])
    assert visit.clock - began > dt.timedelta(minutes=visit.profile.recovery_after_high_co.minutes)


def test_applications_are_counted_per_gas_and_feed(visit_on):
    visit = visit_on()
    for feed in ("tip", "tip", "instrument"):
        visit.test_gas("cyl-co-500", feed)
    assert [step["application"] for step in visit.steps[-3:]] == [1, 2, 1]


def test_the_gauge_falls_with_the_litres(visit_on):
    visit = visit_on()
    visit.set_gauge("cyl-co-500", 1000.0)
    visit.test_gas("cyl-co-500")
    visit.test_gas("cyl-co-500")
    first, second = (step["feed"]["gauge_kpa_before"] for step in visit.steps[-2:])
    assert (first, second) == (1000, round(1000 - 1.8 * 2.0 * 60.0))


def test_an_adjustment_brings_the_display_to_what_was_entered(visit_on, shown):
    visit = visit_on(Truth(gain={"co": 0.82}))
    assert visit.adjust("co", "cyl-co-500")
    visit.as_left()
    visit.test_gas("cyl-co-500", "instrument", only_settled=True)
    assert shown(visit, "co")[-1] == pytest.approx(502.0, abs=8.0)
    assert visit.truth.correction["co"] == pytest.approx(1.0 / 0.82, rel=0.02)


def test_an_adjustment_carries_the_bottle_s_own_error_into_the_unit(visit_on):
    gains = []
    for seed in range(60):
        visit = visit_on(Truth(gain={"co": 0.9}), seed=seed)
        visit.adjust("co", "cyl-co-500")
        gains.append((visit.truth.co_gain, 502.0 / visit.bottles["cyl-co-500"]["co"]))
    assert all(gain == pytest.approx(wrong, rel=0.005) for gain, wrong in gains)


@pytest.mark.parametrize(("truth", "channel"), [(Truth(gain={"co": 0.5}), "co"), (Truth(dead=frozenset({"co"})), "co")])
def test_a_cell_beyond_its_adjustable_range_is_not_accepted(visit_on, truth, channel):
    visit = visit_on(truth)
    assert not visit.adjust(channel, "cyl-co-500")
    assert visit.truth is truth
    assert visit.steps[-1]["accepted"] is False


def test_adjusting_a_used_up_span_again_is_refused(visit_on):
    visit = visit_on(Truth(gain={"co": 0.75}, correction={"co": 1.3}))
    assert not visit.adjust("co", "cyl-co-500")


def test_a_bottle_that_is_not_there_is_refused(visit_on):
    with pytest.raises(StepError, match="cyl-co-9000"):
        visit_on().test_gas("cyl-co-9000")


def test_everything_the_bench_can_do_is_a_record_that_the_reader_takes(visit_on):
    visit = visit_on(Truth(dilution_probe=0.03), us_units=True)
    visit.ambient_air()
    visit.test_gas("cyl-co-500", "tip")
    visit.test_gas("cyl-co-500", "instrument", pinched=True, only_settled=True)
    visit.swap_test("cyl-co-500")
    visit.plug_test("hose")
    visit.bulb_test()
    visit.vacuum_hold()
    visit.temperature("therm-1", 200.0)
    visit.temperature("therm-1", 120.0, "stack", "socket")
    visit.temperature("therm-air", 22.0, "air", "air-sensor")
    visit.pressure("mano-1", -25.0)
    visit.flow("flow-1")
    visit.adjust("co", "cyl-co-500")
    visit.part("hose", Truth())
    visit.happening("upkeep", done="new-filter", what="particle filter")
    visit.happening("strike", strikes="s4", why="vent was closed")
    record = visit.record()
    assert read_record(json.dumps(record).encode()).to_json_dict() == record
