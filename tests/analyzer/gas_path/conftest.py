"""Readings as an exact analyzer would give them, with chosen products and chosen uncertainty."""

import pytest

from flueproof.analyzer.gas_path.observation import GasObservation

AIR = 20.9


def o2_reading(product, *, gas=0.0, feed="tip", u=0.01, u_gas=0.006, bottle="b1", step="s1", deviation=0.0):
    """A unit set to 20.9 in air shows 20.9 - P (20.9 - c)."""
    shown = AIR - product * (AIR - gas) + deviation
    return GasObservation(step, feed, "o2", gas, u_gas, shown, u, 0.0, bottle, set_to=AIR)


def co_reading(product, *, gas=502.0, feed="tip", zero=0.0, u=0.5, u_gas=2.5, bottle="b1", step="s1", **more):
    """A cell zeroed in air shows P c + b."""
    shown = product * gas + zero + more.pop("deviation", 0.0)
    return GasObservation(step, feed, "co", gas, u_gas, shown, u, 0.0, bottle, **more)


def both(p_o2, p_co, feed, **more):
    return [o2_reading(p_o2, feed=feed, **more), co_reading(p_co, feed=feed)]


@pytest.fixture(name="o2")
def _o2():
    return o2_reading


@pytest.fixture(name="co")
def _co():
    return co_reading


@pytest.fixture(name="both_gases")
def _both():
    return both
