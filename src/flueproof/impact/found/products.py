"""The products of a gas channel through the owner's own path, with their gradient on what gas has identified."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from flueproof.analyzer.gas_path.observation import GasObservation, ZeroKnowledge
from flueproof.analyzer.gas_path.products import Products, fit_products
from flueproof.analyzer.profile import Profile
from flueproof.bench.judge.phases import UNKNOWN_ZERO_U
from flueproof.impact.found.lines import FloatArray

OWN_FEEDS = ("tip", "handle", "hose", "after-trap", "instrument")
"""Feeds through the owner's own parts, from the one that every field reading passes to the innermost."""

OWN_ZERO_U_PPM = 5.0
"""What a CO or NO cell may show of its own after its zeroing; own choice, no source."""


@dataclass(frozen=True, slots=True)
class Identified:
    """A product with its gradient on the products' parameters: value [-], gradient shape (parameters,) [-]."""

    value: float
    gradient: FloatArray


def field_products(
    observations: Sequence[GasObservation], profile: Profile, room_co_ppm: float | None
) -> Products | None:
    """Return the products that gas identifies, with little taken for granted about the zeros; None without gas.

    The judge may take a zero set in clean air for nearly nothing: that decides whether a point conforms. What goes
    along into the field is the cell's own zero, so here the gases tell it from the gain.
    room_co_ppm: least CO in the bench's air when the unit took its zeros [ppm], None when not logged.
    """
    zeros = []
    for channel in profile.channels.values():
        gas = channel.name.split("_", maxsplit=1)[0]
        if channel.measures_gas and channel.set_in_air is None:
            taken = -room_co_ppm if gas == "co" and channel.zeroed_in_air and room_co_ppm is not None else 0.0
            u = OWN_ZERO_U_PPM if channel.name in {"co", "no"} else UNKNOWN_ZERO_U.get(gas, 3.0)
            zeros.append(ZeroKnowledge(channel.name, taken, u))
    return fit_products(observations, zeros)


def outermost_feed(products: Products) -> str | None:
    """Return the feed nearest to the tip at which anything was measured, None without any product."""
    return next((feed for feed in OWN_FEEDS if any(name[1] == feed for name in products.names)), None)


def product_at(products: Products, channel: str, feed: str) -> Identified | None:
    """Return a channel's product at a feed: measured there, or carried over by another channel measured at both.

    Room air dilutes every gas alike, so P(outer)/P(inner) of one channel is that of all.
    """
    if products.has(channel, feed):
        return Identified(products.value(channel, feed), _unit(products, channel, feed))
    for inner in products.feeds(channel):
        for witness in dict.fromkeys(name for name, _ in products.names):
            if witness != channel and products.has(witness, feed) and products.has(witness, inner):
                return _carried(products, channel, inner, witness, feed)
    return None


def zero_of(products: Products, channel: str) -> Identified | None:
    """Return a channel's zero error [unit of the channel], None where the fit has none."""
    if not products.has(channel, "zero"):
        return None
    return Identified(products.value(channel, "zero"), _unit(products, channel, "zero"))


def cross_of(products: Products, channel: str, gas: str) -> Identified | None:
    """Return what a channel shows per unit of another gas [-], None where no gas told."""
    if not products.has(channel, f"on:{gas}"):
        return None
    return Identified(products.value(channel, f"on:{gas}"), _unit(products, channel, f"on:{gas}"))


def honest_covariance(products: Products) -> FloatArray:
    """Return the covariance, widened where the readings scatter more than their uncertainties allow (Birge ratio)."""
    if products.freedom < 1:
        return products.covariance
    return products.covariance * max(1.0, products.chi_square / products.freedom)


def _unit(products: Products, channel: str, what: str) -> FloatArray:
    gradient = np.zeros(len(products.names))
    gradient[products.names.index((channel, what))] = 1.0
    return gradient


def _carried(products: Products, channel: str, inner: str, witness: str, feed: str) -> Identified:
    own, outer = products.value(channel, inner), products.value(witness, feed)
    inside = products.value(witness, inner)
    value = own * outer / inside
    gradient = (
        outer / inside * _unit(products, channel, inner)
        + own / inside * _unit(products, witness, feed)
        - value / inside * _unit(products, witness, inner)
    )
    return Identified(value, gradient)
