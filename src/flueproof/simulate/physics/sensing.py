"""From gas at the inlet to what the display would show if it were endlessly fine: cells, self-zeroing, sensors."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flueproof.analyzer.thermocouple import emf_mv, temperature_c
from flueproof.simulate.physics.bottles import AIR_O2_PCT
from flueproof.testgas.ambient import ambient_o2_pct

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy as np

    from flueproof.simulate.truth import Truth

DRY_AIR_O2_PCT = 20.946
AIR_CO2_PCT = 0.042
"""CO2 in clean room air [% CO2] (from memory)."""
CROSS_GASES = {"no": "no_on_co", "h2": "h2_on_co"}


@dataclass(frozen=True, slots=True)
class Room:
    """Air of the bench: temperature [degC], relative humidity [%], pressure [hPa], CO [ppm]."""

    air_c: float = 22.0
    humidity_pct: float = 45.0
    pressure_hpa: float = 1010.0
    co_ppm: float = 0.0


def drawn_room(generator: np.random.Generator, *, co_ppm: float = 0.0) -> Room:
    """Return the air of an ordinary bench on an autumn day; co_ppm: CO in it [ppm].

    Source: common practice, no source.
    """
    air_c, humidity_pct, pressure_hpa = generator.uniform((19.5, 35.0, 992.0), (24.5, 58.0, 1022.0)).tolist()
    return Room(round(air_c, 1), round(humidity_pct), round(pressure_hpa, 1), co_ppm)


def gas_of(channel: str) -> str:
    """Return the gas that a channel measures: `co_high` measures `co`.

    Source: channel names of the profiles, own convention.
    """
    return channel.split("_", maxsplit=1)[0]


def o2_shown(truth: Truth, gas_o2_pct: float, dilution: float, room: Room) -> float:
    """Return what an O2 channel set to 20.9 in room air shows [% O2].

    The unit has one adjustment, its gain, and sets it at switch-on so that room air reads 20.9, residual current z
    included. With a linear cell: 20.9 - (1 - z/20.9)(1 - f)(20.9 - O2_gas). A cell that saturates bends the same
    curve through both ends; one that gives less than the lowest settable output reads all of it too low.
    gas_o2_pct: O2 in the gas [% O2]; dilution: share of room air f [-]; room: the air it was set in.
    Source: bench-record.md, "What the unit's own zeroing hides"; saturation and humidity own derivation.
    """
    air = AIR_O2_PCT
    if truth.humid_air_seen:
        humid = float(ambient_o2_pct(room.air_c, room.humidity_pct, room.pressure_hpa)[0])
        air *= 1.0 - truth.humid_air_seen * (1.0 - humid / DRY_AIR_O2_PCT)
    at_cell = (1.0 - dilution) * gas_o2_pct + dilution * air
    relative = at_cell / air * (1.0 + air / truth.o2_saturation_pct) / (1.0 + at_cell / truth.o2_saturation_pct)
    shown = truth.o2_zero_pct + (AIR_O2_PCT - truth.o2_zero_pct) * relative
    return shown * min(1.0, truth.o2_output / truth.o2_lowest_output)


def other_gas_shown(
    truth: Truth,
    channel: str,
    gas: Mapping[str, float],
    dilution: float,
    room: Room,
    *,
    zeroed_in_co_ppm: float | None,
) -> float:
    """Return what a CO, NO, CO2 ... channel shows [unit of the channel], before any clamp.

    gain ((1 - f) c + f c_room) + zero, less what the unit took as zero at switch-on when it zeroes there: CO in the
    room then shows as an offset, constant in ppm. On CO, NO and H2 that reach the cell add their cross-sensitivity.
    gas: contents at the inlet by gas [their own units]; dilution: share of room air f [-]; zeroed_in_co_ppm: CO in
    the room when the unit zeroed itself [ppm], None when it does not.
    Source: bench-record.md, "What the unit's own zeroing hides"; own derivation.
    """
    kind = gas_of(channel)
    room_content = {"co": room.co_ppm, "co2": AIR_CO2_PCT}.get(kind, 0.0)
    gain = truth.gain_of(channel)
    at_cell = (1.0 - dilution) * gas.get(kind, 0.0) + dilution * room_content
    shown = gain * at_cell + truth.zero_of(channel)
    if zeroed_in_co_ppm is not None:
        shown -= gain * (zeroed_in_co_ppm if kind == "co" else room_content)
    if kind == "co" and channel not in truth.dead:
        for other, name in CROSS_GASES.items():
            shown += getattr(truth, name) * (1.0 - dilution) * gas.get(other, 0.0)
    return shown


def gas_shown(
    truth: Truth,
    channel: str,
    gas: Mapping[str, float],
    dilution: float,
    room: Room,
    *,
    zeroed_in_co_ppm: float | None,
) -> float:
    """Return the settled indication of any gas channel [unit of the channel], before clamp, snap and step.

    Arguments as in `other_gas_shown`; O2 goes by `o2_shown`.
    Source: bench-record.md, "What the unit's own zeroing hides".
    """
    if channel == "o2":
        return o2_shown(truth, gas.get("o2", 0.0), dilution, room)
    return other_gas_shown(truth, channel, gas, dilution, room, zeroed_in_co_ppm=zeroed_in_co_ppm)


def stack_shown(truth: Truth, true_c: float, room: Room, *, of: str) -> float:
    """Return what the flue temperature channel shows [degC].

    The probe gives (1 + e)(E(t) - E(t_room)); the meter adds E of its own cold junction and inverts. At the socket a
    simulator gives the true voltage, so only the meter's error is left.
    true_c: temperature of the tip, or what is simulated [degC]; of: `probe` or `socket`.
    Source: NIST Monograph 175 (type K); cold junction: team's reference sheet, section 7.
    """
    junction_c = room.air_c
    voltage = float(emf_mv(true_c)) - float(emf_mv(junction_c))
    if of == "probe":
        voltage *= 1.0 + truth.probe_emf_error
    return float(temperature_c(voltage + float(emf_mv(junction_c + truth.cold_junction_error_k))))


def air_shown(truth: Truth, true_c: float) -> float:
    """Return what the air sensor shows [degC]; nan when it is missing.

    Source: own model, a constant error.
    """
    return math.nan if "air" in truth.missing else true_c + truth.air_sensor_error_k


def draft_shown(truth: Truth, true_pa: float) -> float:
    """Return what the draft channel shows [Pa], zeroed with open ports beforehand.

    Source: own model, a gain and a residual zero.
    """
    return truth.draft_gain * true_pa + truth.draft_zero_pa
