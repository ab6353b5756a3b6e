"""Published and recomputed values for cylinders, room air and leaks; the source stands in each entry of the data."""

import json
from datetime import date
from pathlib import Path

import pytest

from flueproof.testgas import ambient, cautions, cylinder, deciding, dilution, expiry
from flueproof.testgas.blend import Blend, GasComponent
from flueproof.testgas.certificate import GasCertificate
from flueproof.testgas.real_gas import compressibility
from flueproof.testgas.shipped_table import shipped_table

ENTRIES = {e["id"]: e for e in json.loads((Path(__file__).parent / "data" / "flue_gas.json").read_text("utf-8"))}
PSI_KPA = 6.894757293168


def those(prefix):
    return pytest.mark.parametrize(
        "entry", [e for i, e in ENTRIES.items() if i.startswith(prefix)], ids=lambda e: e["id"]
    )


@those("z-n2-")
def test_compressibility_of_nitrogen(entry):
    absolute = entry["inputs"]["psig"] * PSI_KPA + 101.325
    z = compressibility(absolute, entry["inputs"]["t"])
    assert z == pytest.approx(entry["expected"]["Z"], **entry["tolerance"])


@those("cyl-")
def test_contents_of_a_cylinder(entry):
    fill, want, within = entry["inputs"]["psig"] * PSI_KPA, entry["expected"], entry["tolerance"]
    volume = cylinder.water_volume_l(entry["inputs"]["nominal_content_L"], fill)
    assert volume == pytest.approx(want["water_volume_L_real"], **within)
    to_100 = cylinder.usable_litres(fill, volume, minimum_kpa=100 * PSI_KPA)
    assert to_100 == pytest.approx(want["usable_L_down_to_100_psig"], **within)
    to_25 = cylinder.usable_litres(fill, volume, minimum_kpa=25 * PSI_KPA)
    assert to_25 == pytest.approx(want["usable_L_down_to_25_psig"], **within)


@those("o2-humid-")
def test_oxygen_in_humid_air(entry):
    given = entry["inputs"]
    air = ambient.ambient_o2_pct(given["t"], given["rh"], given["p_kPa"] * 10.0)
    assert air.value == pytest.approx(entry["expected"]["o2_vol_pct"], **entry["tolerance"])
    assert air.water_share == pytest.approx(entry["expected"]["x_w"], abs=0.0001)


@those("o2-pressure-")
def test_oxygen_at_height(entry):
    given, want = entry["inputs"], entry["expected"]
    air = ambient.ambient_o2_pct(given["t"], given["rh"], given["p_kPa"] * 10.0)
    assert air.value == pytest.approx(want["o2_vol_pct"], **entry["tolerance"])
    assert air.value / 100.0 * given["p_kPa"] == pytest.approx(want["pO2_kPa"], **entry["tolerance"])
    reading = ambient.partial_pressure_reading_pct(air.value, given["p_kPa"] * 10.0)
    assert reading == pytest.approx(want["uncompensated_partial_pressure_cell_reading"], **entry["tolerance"])


@those("leak-f-")
def test_dilution_by_a_leak(entry):
    fraction, want, within = entry["inputs"]["f"], entry["expected"], entry["tolerance"]
    blend = Blend({"co": GasComponent.from_accuracy("co", "ppm", entry["inputs"]["co_gas"], 1.0)}, "nitrogen")
    humid = dilution.diluted_blend(blend, fraction, ambient.ambient_o2_pct(25.0, 50.0, 1013.25))
    dry = dilution.diluted_blend(blend, fraction, ambient.ambient_o2_pct(25.0, 0.0, 1013.25))
    assert humid["o2"] == pytest.approx(want["o2_pct_humid_air"], **within)
    assert dry["o2"] == pytest.approx(want["o2_pct_dry_air"], **within)
    assert humid["co"] == pytest.approx(want["co_ppm"], **within)


@pytest.mark.parametrize(
    ("key", "gas", "ppm", "years"),
    [
        ("epa-proto-so2", "so2", 20.0, "years_1_to_50_ppm"),
        ("epa-proto-so2", "so2", 200.0, "years_above_50_ppm"),
        ("epa-proto-co-in-n2-or-air", "co", 500.0, "years"),
        ("epa-proto-o2-in-n2", "o2", 40_000.0, "years"),
        ("epa-proto-co2-in-n2-or-air", "co2", 90_000.0, "years"),
        ("epa-proto-no-in-o2-free-n2", "no", 100.0, "years"),
        ("epa-proto-no-in-o2-free-n2-low", "no", 20.0, "years"),
        ("epa-proto-no2-in-air-or-n2", "no2", 50.0, "years"),
    ],
)
def test_shelf_life_of_a_protocol_gas(key, gas, ppm, years):
    blend = Blend({gas: GasComponent.from_accuracy(gas, "ppm", ppm, 2.0)}, "nitrogen")
    period = expiry.shortest_period(blend)
    assert period.years == ENTRIES[key]["expected"][years]
    assert ("from memory" in period.source) == (ENTRIES[key]["provenance"] == "from-memory")
    longer = expiry.years_later(date(2024, 2, 29), period.years + 1)
    assert expiry.expiry_state(GasCertificate("X", date(2024, 2, 29), longer), blend, date(2024, 3, 1)).warnings


def test_minimum_pressure_of_a_protocol_gas():
    want = ENTRIES["epa-proto-minp"]["expected"]
    assert want["min_cylinder_psig"] * PSI_KPA == pytest.approx(cylinder.MINIMUM_KPA, abs=1.0)
    assert want["min_cylinder_MPa"] * 1000.0 == pytest.approx(cylinder.MINIMUM_KPA, abs=11.0)


def test_stability_of_316_cylinders():
    table, entry = shipped_table("shelf_life")["stability"], ENTRIES["gas-stability-1984"]
    assert table["cylinders"] == entry["inputs"]["cylinders"]
    assert (table["months"], table["within_pct"]) == (
        entry["expected"]["recert_months"],
        entry["expected"]["criterion_pct"],
    )
    assert table["co_in_nitrogen_ppm"] == entry["expected"]["co_n2_ppm"]
    assert table["no_in_nitrogen_ppm"] == entry["expected"]["no_n2_ppm"]


def test_zero_air_is_as_free_as_its_definition_says():
    want, air = ENTRIES["zero-air"]["expected"], Blend({}, "air")
    for gas, key in (("so2", "so2_ppm"), ("no", "nox_ppm"), ("co", "co_ppm"), ("co2", "co2_ppm")):
        assert air.component(gas, "ppm").u * 3**0.5 == pytest.approx(want[key])
    assert shipped_table("purity")["air"]["hydrocarbons"]["ppm"] == want["thc_ppm"]


def test_co_exposure_limits():
    limits = {one.body: one for one in cautions.co_exposure_limits()}
    osha, niosh = ENTRIES["co-osha"]["expected"], ENTRIES["co-niosh"]["expected"]
    assert limits["OSHA PEL, mean of 8 h"].ppm == osha["twa_8h_ppm"]
    assert limits["OSHA PEL, mean of 8 h"].mg_m3 == osha["mg_m3"]
    assert limits["NIOSH REL, mean of a shift"].ppm == niosh["twa_ppm"]
    assert limits["NIOSH REL, ceiling"].ppm == niosh["ceiling_ppm"]
    assert limits["ACGIH TLV, mean of a shift"].ppm == ENTRIES["co-acgih"]["expected"]["twa_ppm"]
    assert limits["NIOSH IDLH, immediately dangerous"].ppm == ENTRIES["co-idlh"]["expected"]["ppm"]
    day = limits["WHO 2021, mean of 24 h"]
    assert day.ppm == pytest.approx(ENTRIES["co-who-24h"]["expected"]["ppm_25C"], **ENTRIES["co-who-24h"]["tolerance"])
    assert day.ppm == pytest.approx(day.mg_m3 * 24.465 / 28.010, rel=0.01)
    for time, words in (("15min", "15 min"), ("30min", "30 min"), ("1h", "1 h"), ("8h", "8 h")):
        line = limits[f"WHO Europe, {words}"]
        assert line.ppm == ENTRIES["co-who-short"]["expected"]["ppm"][time]
        assert line.mg_m3 == ENTRIES["co-who-short"]["expected"]["mg_m3"][time]


def test_a_two_percent_bottle_meets_one_to_three_against_ten_percent_and_fails_it_against_five():
    """OIML R 144-1:2013, 7.2.2.2 (entry r144-gas): gas uncertainty to limit at most 1:3, 1:2 if allowed."""
    from flueproof.metrology.conformity import decision_rule

    assert ENTRIES["r144-gas"]["expected"]["gas_uncertainty_to_mpe"].startswith("1:3 (1:2")
    bottle = GasComponent.from_expanded("co", "ppm", 500.0, 10.0)
    loose, tight = (deciding.can_decide(bottle.u, 0.0, limit, decision_rule("simple")) for limit in (50.0, 25.0))
    assert loose.meets_ratio()
    assert not tight.meets_ratio()
    assert tight.meets_ratio(2.0)
