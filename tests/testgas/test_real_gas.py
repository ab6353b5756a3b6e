"""Compressibility of nitrogen and air, against an independent library."""

import numpy as np
import pytest

from flueproof.testgas.errors import CylinderError
from flueproof.testgas.real_gas import compressibility


@pytest.mark.parametrize(("gas", "name"), [("nitrogen", "Nitrogen"), ("air", "Air")])
def test_z_agrees_with_coolprop_over_the_whole_range(gas, name):
    from CoolProp.CoolProp import PropsSI

    pressure, celsius = np.meshgrid([1.0, 101.325, 791.0, 3500.0, 7000.0, 14000.0, 30000.0], [-30.0, 0.0, 21.1, 60.0])
    theirs = [
        PropsSI("Z", "P", p * 1e3, "T", t + 273.15, name) for p, t in zip(pressure.flat, celsius.flat, strict=True)
    ]
    assert compressibility(pressure, celsius, gas).ravel() == pytest.approx(theirs, rel=1e-6)


def test_a_thin_gas_is_ideal():
    assert compressibility(0.01, 20.0) == pytest.approx(1.0, abs=1e-7)


@pytest.mark.parametrize(
    ("pressure", "celsius", "gas"), [(0.0, 20, "nitrogen"), (3.1e4, 20, "air"), (100, 80, "air"), (100, 20, "argon")]
)
def test_outside_the_stated_range_it_refuses(pressure, celsius, gas):
    with pytest.raises(CylinderError):
        compressibility(pressure, celsius, gas)
