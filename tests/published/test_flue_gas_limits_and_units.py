"""Published limits, units and the type K function; the source stands in each entry of the data."""

import json
from pathlib import Path

import numpy as np
import pytest

from flueproof.analyzer import thermocouple, units
from flueproof.analyzer.limit_sets import shipped_limit_set
from flueproof.analyzer.profile_reader import shipped_profile, shipped_profile_names

ENTRIES = {e["id"]: e for e in json.loads((Path(__file__).parent / "data" / "flue_gas.json").read_text("utf-8"))}


def those(prefix):
    return pytest.mark.parametrize(
        "entry", [e for i, e in ENTRIES.items() if i.startswith(prefix)], ids=lambda e: e["id"]
    )


def lines_at(limits, reference, phase="as-found"):
    return next(line for line in limits if line.holds_for(reference, phase))


@those("tck-emf-")
def test_type_k_voltage(entry):
    celsius, want = entry["inputs"]["t_C"], entry["expected"]
    assert thermocouple.emf_mv(celsius) == pytest.approx(want["emf_mV"], abs=1e-6)
    assert thermocouple.emf_mv(celsius) == pytest.approx(want["table_mV"], abs=0.0005 + 1e-9)
    assert thermocouple.temperature_c(want["emf_mV"]) == pytest.approx(celsius, abs=1e-4)


def test_type_k_published_inverse_polynomials_lie_within_their_published_error():
    entry = ENTRIES["tck-coef"]["expected"]
    for row, bounds in zip(entry["inverse"], entry["inverse_error_C"].values(), strict=True):
        voltage = np.linspace(*row["mV"], 400)
        error = np.polynomial.polynomial.polyval(voltage, row["c"]) - thermocouple.temperature_c(voltage)
        assert bounds[0] - 0.006 <= error.min()
        assert error.max() <= bounds[1] + 0.006


@those("tck-cjc-")
def test_cold_junction_adds_voltages_not_temperatures(entry):
    given, want = entry["inputs"], entry["expected"]
    right = thermocouple.temperature_with_cold_junction(given["measured_mV"], given["tref_C"])
    assert right == pytest.approx(want["correct_C"], abs=0.002)
    naive = thermocouple.temperature_c(given["measured_mV"]) + given["tref_C"]
    assert naive == pytest.approx(want["naive_add_temperatures_C"], **entry["tolerance"])


def test_type_k_tolerances():
    iec, astm = ENTRIES["tck-iec"]["expected"], ENTRIES["tck-astm"]["expected"]
    for name, key in (("class 1", "class1"), ("class 2", "class2"), ("class 3", "class3")):
        for row in iec[key]:
            middle = 0.5 * sum(row["range"])
            want = row["tol"] if "tol" in row else row["tol_frac"] * abs(middle)
            assert thermocouple.tolerance_k(middle, name) == pytest.approx(want)
    for name in ("standard", "special"):
        for celsius in (100.0, 800.0):
            want = max(astm[f"{name}_C"], astm[f"{name}_frac"] * celsius)
            assert thermocouple.tolerance_k(celsius, name) == pytest.approx(want)


@pytest.mark.parametrize("name", shipped_profile_names())
def test_the_stack_limit_is_iec_class_2(name):
    stack = shipped_profile(name).channels["stack"]
    for celsius in (0.0, 150.0, 333.0, 400.0, 600.0):
        assert stack.limit_at(celsius, "as-found").value == pytest.approx(thermocouple.tolerance_k(celsius), abs=0.003)


UNIT_NAMES = {
    "unit-inH2O_conventional": "inH2O",
    "unit-inH2O_4C": "inH2O-4C",
    "unit-inH2O_60F": "inH2O-60F",
    "unit-mmH2O_conventional": "mmH2O",
    "unit-psi": "psi",
    "unit-mbar": "mbar",
    "unit-inHg_0C_conventional": "inHg",
    "unit-mmHg_conventional": "mmHg",
}


@those("unit-")
def test_pressure_units(entry):
    pascal = units.to_core(1.0, UNIT_NAMES[entry["id"]], "pressure")
    assert pascal == pytest.approx(entry["expected"]["Pa"], **entry["tolerance"])


@pytest.mark.parametrize("channel", ["co", "no"])
def test_oiml_limits_stand_in_the_set_and_in_the_profile(channel):
    want = ENTRIES["r144-mpe"]["expected"]
    own = shipped_profile("three-cell-light-commercial").channels[channel].limits
    for limits in (shipped_limit_set("oiml-r144-2013").limits[channel], own):
        found, left = lines_at(limits, 100.0), lines_at(limits, 100.0, "as-left")
        assert (found.absolute, found.percent) == (want["verification_ppm"], want["verification_pct"])
        assert (left.absolute, left.percent) == (want["intrinsic_ppm"], want["intrinsic_pct"])
        assert found.combine == left.combine == "larger"


@pytest.mark.parametrize("name", shipped_profile_names())
def test_a_shipped_profile_is_no_slower_and_no_less_repeatable_than_oiml_allows(name):
    """OIML R 144-1:2013, 4.4 and 4.6 (entries r144-mpe, r144-response)."""
    for channel in shipped_profile(name).channels.values():
        if channel.kind in {"cell", "infrared"}:
            assert channel.response.t90_s <= 60 * ENTRIES["r144-response"]["expected"]["t90_max_min"]
            for share in (0.1, 0.5, 1.0):
                at = share * channel.high
                most = ENTRIES["r144-mpe"]["expected"]["s_max_fraction_of_mpe"]
                assert channel.repeatability.s_at(at) <= most * channel.limit_at(at, "as-left").value


def test_zzzz_limits():
    zero, span = ENTRIES["zzzz-zero"]["expected"], ENTRIES["zzzz-span"]["expected"]
    limits = shipped_limit_set("subpart-zzzz-appendix-a").limits
    assert lines_at(limits["o2"], 0.0).absolute == zero["o2_zero_pct_abs"]
    assert lines_at(limits["co"], 0.0).absolute == zero["co_zero_ppm"]
    assert lines_at(limits["o2"], 5.0).absolute == span["o2_span_pct_abs"]
    assert (lines_at(limits["co"], 100.0).absolute, lines_at(limits["co"], 100.0).percent) == (
        span["co_span_ppm"],
        span["co_span_pct"],
    )
    o2 = shipped_profile("two-cell-residential").channels["o2"]
    assert o2.zero_limit("as-found").value == zero["o2_zero_pct_abs"]
    assert o2.limit_at(5.0, "as-found").value == span["o2_span_pct_abs"]


@pytest.mark.parametrize("name", shipped_profile_names())
def test_shipped_profiles_keep_the_zzzz_bench_rules(name):
    """Entries zzzz-interf, zzzz-repeat, zzzz-times, zzzz-gas."""
    profile = shipped_profile(name)
    co, o2 = profile.channels["co"], profile.channels["o2"]
    assert co.cross["no"].limit_pct == ENTRIES["zzzz-interf"]["expected"]["no_plus_no2_response_pct_of_upscale"]
    # Four runs spread over 2.06 s on the average (range of four normal values): within 3 % of the span gas.
    spread = 2.06 * co.repeatability.s_at(500.0) / 500.0 * 100.0
    assert spread <= ENTRIES["zzzz-repeat"]["expected"]["max_minus_min_pct_of_upscale"]
    assert profile.hold_s >= 60 * ENTRIES["zzzz-times"]["expected"]["measurement_phase_min"]
    assert o2.set_to == ENTRIES["zzzz-gas"]["expected"]["o2_air_pct"]


@pytest.mark.parametrize("name", shipped_profile_names())
def test_the_flow_band_of_a_profile_is_not_tighter_than_the_published_one(name):
    flow = shipped_profile(name).pump_flow_l_min
    variation = ENTRIES["zzzz-flow"]["expected"]["flow_variation_pct"] / 100.0
    assert flow.low <= flow.typical * (1.0 - variation)
    assert flow.high >= flow.typical * (1.0 + variation)


def test_en_50379_2_stands_only_as_an_example_from_memory():
    example = shipped_limit_set("en50379-2-example")
    assert example.example
    assert all("from memory" in line.source for lines in example.limits.values() for line in lines)
    co, no = ENTRIES["en50379-2-co"]["expected"], ENTRIES["en50379-2-no"]["expected"]
    assert lines_at(example.limits["o2"], 5.0).absolute == ENTRIES["en50379-2-o2"]["expected"]["o2_abs_pct"]
    assert lines_at(example.limits["co"], 100.0).absolute == co["co_abs_ppm"]
    assert lines_at(example.limits["co"], 1000.0).percent == co["co_rel_pct"]
    assert (lines_at(example.limits["no"], 50.0).absolute, lines_at(example.limits["no"], 50.0).percent) == (
        no["no_abs_ppm"],
        no["no_rel_pct"],
    )
    for name in shipped_profile_names():
        profile = shipped_profile(name)
        assert not any("50379" in line.source for c in profile.channels.values() for line in c.limits)
