"""What flows into a simulated analyzer, and what an adjustment makes of it: shared by written visits and live ones."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from flueproof.simulate.physics.application import Gas, GasChannel
from flueproof.simulate.physics.bottles import AIR_O2_PCT
from flueproof.simulate.physics.display import display_of
from flueproof.simulate.physics.gas_path import dilution_at, vent_dilution
from flueproof.simulate.physics.sensing import AIR_CO2_PCT

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.simulate.physics.sensing import Room
    from flueproof.simulate.truth import Truth


def gas_channels_of(profile: Profile) -> tuple[GasChannel, ...]:
    """Return the gas channels of a profile with their displays (Source: the profile)."""
    return tuple(
        GasChannel(
            channel.name,
            display_of(channel),
            channel.zeroed_in_air,
            channel.set_to or 0.0,
            channel.repeatability.s_at,
        )
        for channel in profile.channels.values()
        if channel.measures_gas
    )


def gas_of_room(room: Room) -> Gas:
    """Return the room's air as the gas at the inlet. Source: own model."""
    return Gas({"o2": AIR_O2_PCT, "co": room.co_ppm, "co2": AIR_CO2_PCT})


def gas_at(
    truth: Truth,
    content: Mapping[str, float],
    feed: str,
    *,
    probe: str = "owner",
    supply_l_min: float,
    pinched: bool = False,
    vent_open: bool = True,
) -> Gas:
    """Return what of a bottle reaches the cells when it is fed at one place.

    content: of the bottle [their own units]; feed: one of FEEDS; probe: `owner` or `shop`; supply_l_min [L/min].
    Source: bench-record.md, "Where the gas goes in"; as `gas_path.dilution_at` and `gas_path.vent_dilution`.
    """
    kept = 1.0 - dilution_at(truth, feed, pinched=pinched, probe=probe)
    kept *= 1.0 - vent_dilution(supply_l_min, truth.pump_flow_l_min, vent_open=vent_open)
    owner_path = feed != "instrument" and probe == "owner"
    return Gas(content, 1.0 - kept, truth.path_filter_tau_s if owner_path else 0.0)


def adjusted(truth: Truth, profile: Profile, channel: str, entered: float, shown: float) -> Truth | None:
    """Return what is true after a value was entered, None when the unit refuses it.

    entered: what the person typed; shown: what the display would show if it were endlessly fine [unit of the channel].
    The span factor moves by entered / shown, and with it the gain of the display; a unit without an adjustment for
    the channel, or outside its adjustable range, refuses.
    Source: bench-record.md, step `adjust`; own derivation.
    """
    factor = entered / shown if shown > 0 else math.inf
    if not _takes(truth, profile, channel, factor):
        return None
    return replace(
        truth,
        correction={**truth.correction, channel: truth.correction.get(channel, 1.0) * entered / shown},
        gain={**truth.gain, channel: truth.gain_of(channel) * entered / shown},
    )


def _takes(truth: Truth, profile: Profile, channel: str, factor: float) -> bool:
    rule, cell = profile.adjust.get(channel), profile.cells.get(channel)
    if rule is None or "span" not in rule.can or not rule.gain_low <= factor <= rule.gain_high:
        return False
    own_gain = truth.gain_of(channel) / truth.correction.get(channel, 1.0)
    return cell is None or bool(cell.gain_low <= own_gain <= cell.gain_high)
