import dataclasses

import pytest

from flueproof.simulate.errors import StepError
from flueproof.simulate.live.analyzer import LiveAnalyzer
from flueproof.simulate.truth import Truth

QUIET = {"noise": {"o2": 1e-9, "co": 1e-9, "stack": 1e-9, "draft": 1e-9, "air": 1e-9}, "repeatability": 0.0}


def quiet(**truth):
    return LiveAnalyzer(truth=Truth(**QUIET, **truth), us_units=False)


def after(analyzer, seconds):
    for _ in range(seconds):
        readings = analyzer.step(1.0)
    return {one.channel: one.shown for one in readings}


def test_switched_on_in_air_it_shows_air():
    assert after(quiet(), 1) == {"o2": 20.9, "co": 0, "stack": 22, "air": 22.0, "draft": 0}


def test_units_and_steps_are_those_of_the_display():
    readings = LiveAnalyzer().step(1.0)
    assert [(one.channel, one.unit, one.step) for one in readings] == [
        ("o2", "%", 0.1),
        ("co", "ppm", 1),
        ("stack", "degF", 1),
        ("air", "degF", 0.1),
        ("draft", "inH2O", 0.01),
    ]


def test_gas_comes_after_a_dead_time_rises_and_settles_at_what_is_in_the_bottle():
    analyzer = quiet()
    after(analyzer, 5)
    analyzer.gas_on("cyl-co-500")
    assert after(analyzer, 4)["co"] == 0
    course = [after(analyzer, 20)["co"] for _ in range(9)]
    assert course == sorted(course)
    assert 250 < course[0] < 480
    assert after(analyzer, 400) == after(analyzer, 1) | {"co": round(analyzer.bottles["cyl-co-500"]["co"]), "o2": 0.0}


def test_gas_off_before_it_has_settled_goes_down_from_where_it_stands():
    analyzer = quiet()
    analyzer.gas_on("cyl-co-500")
    high = after(analyzer, 25)["co"]
    analyzer.gas_off()
    course = [after(analyzer, 1)["co"] for _ in range(120)]
    assert high - 5 <= course[0] <= high + 30
    assert abs(course[1] - course[0]) < 30
    assert course[-1] < 0.05 * high


def test_time_in_small_steps_is_the_same_as_in_large_ones():
    fine, coarse = quiet(), quiet()
    for analyzer in (fine, coarse):
        analyzer.gas_on("cyl-co-500")
    assert after(fine, 60) == {one.channel: one.shown for one in coarse.step(60.0)}


def test_the_same_seed_and_the_same_acts_give_the_same_lines():
    def course(seed):
        analyzer = LiveAnalyzer(seed=seed)
        analyzer.gas_on("cyl-co-500")
        return [analyzer.step(1.0) for _ in range(60)]

    assert course(4) == course(4)
    assert course(4) != course(5)


def test_a_leak_in_the_probe_shows_at_the_tip_and_not_at_the_instrument():
    tip, instrument = quiet(dilution_probe=0.06), quiet(dilution_probe=0.06)
    tip.gas_on("cyl-co-500", "tip")
    instrument.gas_on("cyl-co-500", "instrument")
    assert after(tip, 600)["o2"] == pytest.approx(0.06 * 20.9, abs=0.1)
    assert after(instrument, 600)["o2"] == 0.0


def test_a_pinched_inlet_makes_a_leak_inside_grow():
    analyzer = quiet(dilution_instrument=0.04)
    analyzer.gas_on("cyl-co-500", "instrument")
    before = after(analyzer, 600)["o2"]
    analyzer.gas_on("cyl-co-500", "instrument", pinched=True)
    assert after(analyzer, 600)["o2"] == pytest.approx(3 * before, abs=0.15)


def test_a_worn_cell_reads_low_until_it_is_adjusted_on_settled_gas():
    analyzer = quiet(gain={"co": 0.85})
    analyzer.gas_on("cyl-co-500", "instrument")
    assert after(analyzer, 600)["co"] == round(0.85 * analyzer.bottles["cyl-co-500"]["co"])
    assert analyzer.adjust("co", 502.0)
    assert after(analyzer, 1)["co"] == 502


def test_adjusting_too_early_spoils_the_gain():
    analyzer = quiet(gain={"co": 0.85})
    analyzer.gas_on("cyl-co-500", "instrument")
    after(analyzer, 30)
    assert analyzer.adjust("co", 502.0)
    assert after(analyzer, 600)["co"] > 520


def test_an_adjustment_beyond_what_the_unit_takes_is_refused():
    analyzer = quiet(dead=frozenset({"co"}))
    analyzer.gas_on("cyl-co-500", "instrument")
    after(analyzer, 600)
    assert not analyzer.adjust("co", 502.0)
    assert after(analyzer, 1)["co"] == 0


def test_zeroing_in_a_room_with_co_takes_it_for_zero():
    analyzer = quiet()
    analyzer.room_co(20.0)
    assert after(analyzer, 600)["co"] == 20
    assert analyzer.zero()
    assert after(analyzer, 1)["co"] == 0
    analyzer.gas_on("cyl-co-500")
    assert after(analyzer, 600)["co"] == round(analyzer.bottles["cyl-co-500"]["co"] - 20.0)


def test_co_let_into_the_room_comes_slowly_and_changes_no_gas_that_is_on():
    analyzer = quiet()
    analyzer.gas_on("cyl-co-500")
    before = after(analyzer, 900)
    analyzer.room_co(200.0)
    assert after(analyzer, 200) == before
    analyzer.gas_off()
    analyzer.room_co(50.0)
    assert after(analyzer, 2)["co"] > 300


def test_it_does_not_zero_while_gas_is_on():
    analyzer = quiet()
    analyzer.gas_on("cyl-co-500")
    assert not analyzer.zero()


def test_heat_and_draft_are_followed():
    analyzer = quiet()
    analyzer.temperature(200.0)
    analyzer.draft(-25.0)
    assert after(analyzer, 2)["stack"] == 22
    assert after(analyzer, 3)["draft"] == -25
    assert after(analyzer, 300)["stack"] == 200
    analyzer.truth = dataclasses.replace(analyzer.truth, probe_emf_error=-0.05)
    assert after(analyzer, 1)["stack"] == pytest.approx(191, abs=1)


def test_a_missing_sensor_and_a_gas_over_the_range_show_text():
    analyzer = quiet(missing=frozenset({"air"}), gain={"co": 5.0})
    analyzer.gas_on("cyl-co-500")
    assert after(analyzer, 600)["air"] == "----"
    assert after(analyzer, 1)["co"] == "OVER"


def test_a_second_application_differs_by_the_repeatability():
    analyzer = LiveAnalyzer(truth=Truth(noise=QUIET["noise"], repeatability=3.0), us_units=False)
    shown = set()
    for _ in range(4):
        analyzer.gas_on("cyl-co-500")
        shown.add(after(analyzer, 600)["co"])
        analyzer.gas_off()
        after(analyzer, 600)
    assert len(shown) > 1


def test_noise_moves_the_last_digit_and_little_more():
    analyzer = LiveAnalyzer(truth=Truth(noise={"co": 0.6}))
    analyzer.gas_on("cyl-co-500")
    after(analyzer, 900)
    shown = [after(analyzer, 1)["co"] for _ in range(200)]
    assert 1 <= max(shown) - min(shown) <= 5


def test_what_has_settled_long_ago_is_forgotten_without_a_jump():
    analyzer = quiet()
    for _ in range(5):
        analyzer.gas_on("cyl-co-500")
        after(analyzer, 300)
        analyzer.gas_off()
        after(analyzer, 300)
    analyzer.gas_on("cyl-co-500")
    before = after(analyzer, 3000)
    assert after(analyzer, 3000) == before
    assert len(analyzer._feeds) == 1


@pytest.mark.parametrize(
    "profile", ["three-cell-light-commercial", "infrared-co2-co-high-range", "hydrogen-compensated-co"]
)
def test_every_shipped_profile_lives(profile):
    analyzer = LiveAnalyzer(profile)
    shown = after(analyzer, 5)
    assert set(shown) == set(analyzer.displays)
    assert shown["o2"] == 20.9


@pytest.mark.parametrize(
    ("act", "named"),
    [
        (lambda one: one.gas_on("cyl-nosuch"), "cyl-co-500"),
        (lambda one: one.gas_on("cyl-co-500", "nose"), "after-trap"),
        (lambda one: one.gas_on("cyl-co-500", "tip", pinched=True), "inlet"),
        (lambda one: one.temperature(2000.0), "2000"),
        (lambda one: one.draft(float("nan")), "nan"),
        (lambda one: one.room_co(-1.0), "-1"),
        (lambda one: one.adjust("stack", 1.0), "stack"),
        (lambda one: one.step(-1.0), "backwards"),
    ],
)
def test_what_cannot_be_done_is_refused(act, named):
    with pytest.raises(StepError, match=named):
        act(quiet())
