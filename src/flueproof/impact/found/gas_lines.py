"""From the products of a judged phase to the lines by which its channels show gas in the field."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from flueproof.analyzer.errors import NoLimitError
from flueproof.analyzer.gas_path.products import Products
from flueproof.analyzer.profile import Channel, Profile
from flueproof.impact.found.field_errors import Hypothesis
from flueproof.impact.found.lines import (
    CO_OFFSET,
    CO_ON_NO,
    CO_SLOPE,
    NO_OFFSET,
    NO_SLOPE,
    O2_OFFSET,
    O2_SLOPE,
    PARAMETERS,
    FloatArray,
    GasLines,
    lines_from,
)
from flueproof.impact.found.products import Identified, cross_of, honest_covariance, product_at, zero_of

AIR_O2_PCT = 20.9
ROOM_CO_U_PPM = 1.0
"""How well the room's own CO monitor knows what a unit took as zero; common practice, no source."""
Parameter = tuple[str, str]


@dataclass
class LineDraft:
    """Lines in the making: values by parameter, gradients on the products, and variances of their own."""

    products: Products | None
    values: dict[Parameter, float] = field(default_factory=dict)
    gradients: dict[Parameter, FloatArray] = field(default_factory=dict)
    own_variance: dict[Parameter, float] = field(default_factory=dict)

    def put(self, parameter: Parameter, value: float, gradient: FloatArray | None, own_u: float = 0.0) -> None:
        """Set one parameter; own_u: uncertainty beside that of the products [unit of the parameter]."""
        self.values[parameter] = value
        if gradient is not None:
            self.gradients[parameter] = gradient
        self.own_variance[parameter] = own_u**2

    def lines(self) -> GasLines:
        """Return the lines with their covariance."""
        count = len(self.products.names) if self.products is not None else 0
        transform = np.zeros((len(PARAMETERS), count + len(PARAMETERS)))
        inner = np.zeros((count + len(PARAMETERS), count + len(PARAMETERS)))
        if self.products is not None:
            inner[:count, :count] = honest_covariance(self.products)
        for row, parameter in enumerate(PARAMETERS):
            if parameter in self.gradients:
                transform[row, :count] = self.gradients[parameter]
            transform[row, count + row] = 1.0
            inner[count + row, count + row] = self.own_variance.get(parameter, 0.0)
        return lines_from(self.values, transform, inner)


def gas_hypotheses(
    products: Products | None, profile: Profile, feed: str | None, leak: str, room_co_ppm: float | None, phase: str
) -> tuple[Hypothesis, ...]:
    """Return the lines of O2, CO and NO as measured through `feed`; more than one where the lines are left open.

    room_co_ppm: least CO in the bench's air when the unit took its zeros [ppm], None when not logged; phase: whose
    limits bound a channel that was not measured.
    """
    draft = LineDraft(products)
    _put_co(draft, profile, feed, room_co_ppm, phase)
    _put_no(draft, profile, feed, phase)
    channel = profile.channels.get("o2")
    if channel is None:
        return (Hypothesis("", draft.lines()),)
    found = product_at(products, "o2", feed) if products is not None and feed is not None else None
    if channel.set_in_air is not None:
        return _self_setting(draft, channel, channel.set_in_air, found, leak, phase)
    return _constant_zero(draft, channel, found, leak, phase)


def _put_o2(draft: LineDraft, product: Identified, set_to: float) -> None:
    draft.put(O2_SLOPE, product.value, product.gradient)
    draft.put(O2_OFFSET, set_to * (1.0 - product.value), -set_to * product.gradient)


def _self_setting(
    draft: LineDraft, channel: Channel, set_to: float, found: Identified | None, leak: str, phase: str
) -> tuple[Hypothesis, ...]:
    if found is not None:
        _put_o2(draft, found, set_to)
        return (Hypothesis("", draft.lines()),)
    u = _limit(channel, 0.0, phase) / math.sqrt(3.0) / set_to
    co_slope = draft.values.get(CO_SLOPE, 1.0)
    only_cell = _untested_o2(draft, set_to, 1.0, None, u)
    if leak == "none" or CO_SLOPE not in draft.gradients or co_slope >= 1.0 - 2.0 * u:
        return (Hypothesis("", only_cell),)
    as_leak = _untested_o2(draft, set_to, co_slope, draft.gradients[CO_SLOPE], u)
    return (
        Hypothesis("if CO is short because the cell is tired", only_cell),
        Hypothesis("if CO is short because room air leaks in", as_leak),
    )


def _untested_o2(draft: LineDraft, set_to: float, slope: float, gradient: FloatArray | None, u: float) -> GasLines:
    draft.gradients.pop(O2_SLOPE, None)
    draft.gradients.pop(O2_OFFSET, None)
    draft.put(O2_SLOPE, slope, gradient, u)
    draft.put(O2_OFFSET, set_to * (1.0 - slope), None if gradient is None else -set_to * gradient, 0.0)
    lines = draft.lines()
    # the unit's setting in air ties slope and offset together, also where only a limit bounds them
    covariance = lines.covariance.copy()
    row, offset = PARAMETERS.index(O2_SLOPE), PARAMETERS.index(O2_OFFSET)
    covariance[offset, row] -= set_to * u**2
    covariance[row, offset] -= set_to * u**2
    covariance[offset, offset] += (set_to * u) ** 2
    return GasLines(lines.values, covariance)


def _constant_zero(
    draft: LineDraft, channel: Channel, found: Identified | None, leak: str, phase: str
) -> tuple[Hypothesis, ...]:
    """A unit that does not set itself: its zero error is a constant; a leak lifts the low end and leaves air alone."""
    zero = zero_of(draft.products, "o2") if draft.products is not None else None
    if zero is None:
        draft.put(O2_SLOPE, 1.0, None)
        draft.put(O2_OFFSET, 0.0, None, _limit(channel, 0.0, phase) / math.sqrt(3.0))
        return (Hypothesis("", draft.lines()),)
    draft.put(O2_OFFSET, zero.value, zero.gradient)
    if found is not None:
        draft.put(O2_SLOPE, found.value, found.gradient)
        return (Hypothesis("", draft.lines()),)
    draft.put(O2_SLOPE, 1.0, None)
    as_zero = Hypothesis("if the O2 cell's zero is off", draft.lines())
    draft.put(O2_SLOPE, 1.0 - zero.value / AIR_O2_PCT, -zero.gradient / AIR_O2_PCT)
    as_leak = Hypothesis("if room air leaks in", draft.lines())
    if leak == "none":
        return (as_zero,)
    return (as_zero, as_leak) if leak == "cannot-tell" else (as_leak,)


def _put_co(draft: LineDraft, profile: Profile, feed: str | None, room_co_ppm: float | None, phase: str) -> None:
    channel = profile.channels.get("co")
    if channel is None:
        return
    _put_channel(draft, channel, CO_SLOPE, CO_OFFSET, feed, phase, room_co_ppm)
    cross = cross_of(draft.products, "co", "no") if draft.products is not None else None
    if cross is not None:
        draft.put(CO_ON_NO, cross.value, cross.gradient)


def _put_no(draft: LineDraft, profile: Profile, feed: str | None, phase: str) -> None:
    channel = profile.channels.get("no")
    if channel is not None:
        _put_channel(draft, channel, NO_SLOPE, NO_OFFSET, feed, phase, 0.0)


def _put_channel(
    draft: LineDraft,
    channel: Channel,
    slope: Parameter,
    offset: Parameter,
    feed: str | None,
    phase: str,
    room_ppm: float | None,
) -> None:
    products = draft.products
    found = product_at(products, channel.name, feed) if products is not None and feed is not None else None
    if found is None:
        at = 0.5 * (channel.low + channel.high)
        draft.put(slope, 1.0, None, _limit(channel, at, phase) / at / math.sqrt(3.0))
        draft.put(offset, 0.0, None, _limit(channel, 0.0, phase) / math.sqrt(3.0))
        return
    draft.put(slope, found.value, found.gradient)
    zero = zero_of(products, channel.name) if products is not None else None
    if zero is None:
        draft.put(offset, 0.0, None, _limit(channel, 0.0, phase) / math.sqrt(3.0))
    elif not channel.zeroed_in_air:
        draft.put(offset, zero.value, zero.gradient)
    elif room_ppm is None:  # how much of it the air of the bench made is not known: anything from none to all
        draft.put(offset, zero.value / 2.0, zero.gradient, abs(zero.value) / math.sqrt(12.0))
    else:  # the air of the bench went home with the bench; what is left goes along into the field
        draft.put(offset, zero.value + room_ppm * found.value, zero.gradient + room_ppm * found.gradient, ROOM_CO_U_PPM)


def _limit(channel: Channel, at: float, phase: str) -> float:
    """The channel's own limit at a value, as-found where the phase has none [unit of the channel]."""
    for name in (phase, "as-found", "as-left"):
        try:
            return channel.limit_at(at, name).value
        except NoLimitError:
            continue
    return 0.5 * channel.high
