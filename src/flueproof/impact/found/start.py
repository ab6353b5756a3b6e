"""The state on the last good date: measured as left where that record is there, otherwise inside its limits."""

from __future__ import annotations

import math

import numpy as np

from flueproof.analyzer.profile import Channel, Profile
from flueproof.impact.found.field_errors import ChannelFinding, FieldErrors, Hypothesis
from flueproof.impact.found.from_record import air_pct, displays_of, limit_u
from flueproof.impact.found.lines import (
    CO_OFFSET,
    CO_SLOPE,
    NO_OFFSET,
    NO_SLOPE,
    O2_OFFSET,
    O2_SLOPE,
    PARAMETERS,
    FloatArray,
    lines_from,
)

INSIDE_LIMITS = (
    "For the last good date no measured values are at hand: the analyzer is taken to have been anywhere inside its "
    "limits on that day."
)


def errors_inside_limits(profile: Profile, phase: str = "as-left") -> FieldErrors:
    """Return the errors of an analyzer of which only is known that it was inside its limits.

    Every error is taken as rectangular over the limit; phase: whose limits.
    """
    transform, inner = _covariance(profile, phase)
    lines = lines_from({}, transform, inner)
    return FieldErrors(
        hypotheses=(Hypothesis("", lines),),
        stack=None,
        air=None,
        stack_air=None,
        untested_k={name: limit_u(profile, name, phase) for name in ("stack", "air")},
        displays=displays_of(profile),
        findings={name: ChannelFinding("not-tested") for name in ("o2", "co", "no", "stack", "air")},
        leak="none",
        notes=(INSIDE_LIMITS,),
        o2_air_pct=air_pct(profile),
        profile={"name": profile.name, "version": profile.version},
    )


def _covariance(profile: Profile, phase: str) -> tuple[FloatArray, FloatArray]:
    """Inputs in this order: O2 at its zero, CO slope and offset, NO slope and offset [- or unit of the channel]."""
    transform = np.zeros((len(PARAMETERS), 5))
    inner = np.zeros((5, 5))
    o2 = profile.channels.get("o2")
    if o2 is not None:
        inner[0, 0] = _zero_u(o2, phase) ** 2
        transform[PARAMETERS.index(O2_OFFSET), 0] = 1.0
        if o2.set_in_air is not None:  # the setting in air makes a zero error fade towards air
            transform[PARAMETERS.index(O2_SLOPE), 0] = -1.0 / o2.set_in_air
    for place, name, slope, offset in ((1, "co", CO_SLOPE, CO_OFFSET), (3, "no", NO_SLOPE, NO_OFFSET)):
        channel = profile.channels.get(name)
        if channel is None:
            continue
        inner[place, place], inner[place + 1, place + 1] = _slope_u(channel, phase) ** 2, _zero_u(channel, phase) ** 2
        transform[PARAMETERS.index(slope), place] = transform[PARAMETERS.index(offset), place + 1] = 1.0
    return transform, inner


def _zero_u(channel: Channel, phase: str) -> float:
    return channel.limit_at(0.0, phase).value / math.sqrt(3.0)


def _slope_u(channel: Channel, phase: str) -> float:
    at = 0.5 * (channel.low + channel.high)
    return channel.limit_at(at, phase).value / at / math.sqrt(3.0)
