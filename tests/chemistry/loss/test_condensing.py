"""The condensing balance: nothing above the dew point, more the colder, the first law kept."""

import numpy as np
import pytest

from flueproof.chemistry.combustion.air import CombustionAir
from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.errors import AirError, FlueGasError
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.chemistry.loss.balance import balance
from flueproof.chemistry.loss.condensing import WHY_ABOVE_100, condensing
from flueproof.chemistry.loss.loss import latent_share_pct


def flue(fuel="methane", o2=3.0, air=None):
    return flue_gas_from_o2(complete_combustion(shipped_fuel(fuel), air or CombustionAir()), o2)


def test_nothing_condenses_above_the_dew_point_and_the_loss_is_the_dry_one():
    found = condensing(flue(), 90.0, 20.0)
    assert found.condensed_share == found.condensed_mol == 0.0
    for basis in ("net", "gross"):
        assert found.loss[basis].loss_pct == pytest.approx(balance(flue(), 90.0, 20.0, basis).loss_pct, rel=1e-12)


def test_condensing_begins_at_the_dew_point_without_a_jump():
    dew = float(condensing(flue(), 90.0, 20.0).dew_point_c)
    share = condensing(flue(), [dew - 0.01, dew + 0.01], 20.0).condensed_share
    assert 0.0 < share[0] < 0.001
    assert share[1] == 0.0


def test_colder_gas_gives_back_more_and_never_more_than_there_is():
    found = condensing(flue(), np.linspace(20.0, 56.0, 40), 20.0)
    assert np.all(np.diff(found.condensed_share) < 0.0)
    assert np.all((found.condensed_share >= 0.0) & (found.condensed_share < 1.0))
    assert np.all(found.loss["gross"].efficiency_pct < 100.0)
    limit = 100.0 + latent_share_pct(flue().combustion.heat)
    assert found.loss["net"].efficiency_pct[0] > 100.0
    assert np.all(found.loss["net"].efficiency_pct < limit)
    assert "pass 100 %" in WHY_ABOVE_100


def test_net_and_gross_are_the_same_useful_heat():
    found, heat = condensing(flue(), [30.0, 45.0], 20.0, radiation_pct=0.8), flue().combustion.heat
    net, gross = (found.loss[basis].efficiency_pct for basis in ("net", "gross"))
    assert net * heat.net_kj == pytest.approx(gross * heat.gross_kj, rel=1e-12)


def test_less_condenses_on_a_mountain_and_with_more_air_and_more_in_humid_air():
    here = condensing(flue(), 40.0, 20.0).condensed_share
    assert condensing(flue(), 40.0, 20.0, pressure_hpa=840.0).condensed_share < here
    assert condensing(flue(o2=8.0), 40.0, 20.0).condensed_share < here
    humid = condensing(flue(air=CombustionAir(water_share=0.015)), 40.0, 20.0)
    assert humid.condensed_mol > condensing(flue(), 40.0, 20.0).condensed_mol


def test_oil_at_45_degrees_and_5_per_cent_does_not_condense():
    assert condensing(flue("heating-oil", 5.0), 45.0, 20.0).condensed_share == 0.0


@pytest.mark.parametrize(
    ("exit_c", "air", "said"), [(-1.0, -5.0, "exit"), (251.0, 20.0, "exit"), (40.0, 50.0, "colder")]
)
def test_temperatures_outside_are_refused(exit_c, air, said):
    with pytest.raises(FlueGasError, match=said):
        condensing(flue(), exit_c, air)


def test_a_pressure_outside_is_refused():
    with pytest.raises(AirError, match="500 to 1100"):
        condensing(flue(), 40.0, 20.0, pressure_hpa=1.0)
