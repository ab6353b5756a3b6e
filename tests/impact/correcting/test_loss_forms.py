"""Loss formulas: values of the chemistry room, slopes by difference."""

import numpy as np
import pytest

from flueproof.chemistry.combustion.complete import complete_combustion
from flueproof.chemistry.combustion.flue_gas import flue_gas_from_o2
from flueproof.chemistry.fuels.reading import shipped_fuel
from flueproof.chemistry.loss.heat_loss_method import heat_loss_method
from flueproof.impact.correcting.loss_forms import loss_form

FUELS = ("natural-gas-us", "heating-oil", "propane", "wood-pellets")
AT = np.array([5.0]), np.array([200.0]), np.array([20.0])


@pytest.mark.parametrize("key", FUELS)
@pytest.mark.parametrize(("o2", "stack", "air"), [(0.0, 100.0, 0.0), (5.0, 200.0, 20.0), (12.0, 290.0, 35.0)])
def test_the_gross_form_is_the_heat_loss_method(key, o2, stack, air):
    burned = complete_combustion(shipped_fuel(key))
    wanted = heat_loss_method(flue_gas_from_o2(burned, [o2]), [stack], [air]).loss_pct
    made = loss_form(burned, "heat-loss-gross").pct(np.array([o2]), np.array([stack]), np.array([air]))
    assert made == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize("key", FUELS)
@pytest.mark.parametrize("method", ["german-net", "heat-loss-gross"])
def test_the_slopes_are_those_of_the_form(key, method):
    form = loss_form(complete_combustion(shipped_fuel(key)), method)
    if form is None:
        assert (key, method) == ("wood-pellets", "german-net")
        return
    step = 1e-5
    for place, slope in enumerate(form.slopes(*AT)):
        up, down = list(AT), list(AT)
        up[place], down[place] = AT[place] + step, AT[place] - step
        assert slope == pytest.approx((form.pct(*up) - form.pct(*down)) / (2 * step), rel=1e-6)
    assert "%" in form.in_words
