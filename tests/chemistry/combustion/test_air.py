"""Combustion air."""

import pytest

from flueproof.chemistry.combustion.air import DRY_AIR, CombustionAir
from flueproof.chemistry.errors import AirError


def test_dry_air_holds_the_measured_oxygen():
    assert (DRY_AIR.o2_pct, DRY_AIR.water_per_dry, DRY_AIR.o2_humid_pct) == (20.946, 0.0, 20.946)


def test_water_takes_oxygen_away():
    assert CombustionAir(water_share=0.05).o2_humid_pct == pytest.approx(0.95 * 20.946)
    assert CombustionAir(water_share=0.2).water_per_dry == pytest.approx(0.25)


@pytest.mark.parametrize("o2", [19.0, 22.0, float("nan")])
def test_air_with_another_oxygen_is_refused(o2):
    with pytest.raises(AirError, match=r"20 to 21\.5"):
        CombustionAir(o2_pct=o2)


@pytest.mark.parametrize("share", [-0.01, 0.21, 1.0, float("nan")])
def test_water_that_cannot_be_is_refused(share):
    with pytest.raises(AirError, match="fraction"):
        CombustionAir(water_share=share)
