"""A simulated visit, step by step: what a person at the bench does, and what the analyzer answers."""

from __future__ import annotations

import functools
from typing import Any

import numpy as np

from flueproof.simulate.errors import StepError
from flueproof.simulate.feeding import adjusted, gas_at, gas_channels_of, gas_of_room
from flueproof.simulate.physics.application import Gas, GasChannel, application_readings, end_value
from flueproof.simulate.physics.sensing import gas_of
from flueproof.simulate.sensor_bench import SensorBench

TYPED_TIMES_S = (0.0, 30.0, 60.0, 90.0, 120.0)
FULL_GAUGE_KPA = 3450.0
GAUGE_PER_LITRE = 60.0
"""Pressure that one litre takes from a small cylinder [kPa/L] (from memory)."""
LONG_AGO_S = 600.0


class BenchVisit(SensorBench):
    """Builds one bench record; every method does one thing at the bench and returns the id of its step."""

    @functools.cached_property
    def gas_channels(self) -> tuple[GasChannel, ...]:
        """The gas channels of the profile (Source: the profile)."""
        return gas_channels_of(self.profile)

    def room_gas(self) -> Gas:
        """Return the room's air as the gas at the inlet. Source: own model."""
        return gas_of_room(self.room_air)

    def ambient_air(self) -> str:
        """Read every gas channel in room air: a drift check, no test. Source: bench-record.md."""
        gas = self.room_gas()
        readings = application_readings(
            self.truth,
            self.gas_channels,
            gas,
            gas,
            self.room_air,
            self.zeroed_in_co_ppm,
            (0.0, 30.0),
            self.generator,
            gas_on_s=0.0,
            only_settled=True,
        )
        return self.measuring("ambient-air", readings=readings)

    def test_gas(
        self,
        reference: str,
        feed: str = "tip",
        *,
        probe: str = "owner",
        pinched: bool = False,
        vent_open: bool = True,
        supply_l_min: float | None = None,
        only_settled: bool = False,
        kind: str = "test-gas",
    ) -> str:
        """Put one bottle on at one feed, from air to the end of the hold, and read every gas channel.

        reference: key of the test gas; feed: one of FEEDS; supply_l_min: [L/min], the style's when None.
        Raises: StepError for an unknown bottle.
        Source: bench-record.md, "Where the gas goes in"; purge and recovery times from the profile.
        """
        if reference not in self.bottles:
            raise StepError(f"no test gas {reference!r} in this visit; there are {', '.join(self.bottles)}")
        supply = self.style.supply_l_min if supply_l_min is None else supply_l_min
        times = self._times()
        gas = self._gas_at(reference, feed, probe, supply, pinched=pinched, vent_open=vent_open)
        readings = application_readings(
            self.truth,
            self.gas_channels,
            self.room_gas(),
            gas,
            self.room_air,
            self.zeroed_in_co_ppm,
            times[-2:] if only_settled else times,
            self.generator,
            gas_on_s=self.style.gas_on_s - (LONG_AGO_S if only_settled else 0.0),
            only_settled=only_settled,
        )
        where: dict[str, Any] = {"feed": feed} if feed == "instrument" else {"feed": feed, "probe": probe}
        flow: dict[str, Any] = {"supply_l_min": supply, "vent_open": vent_open}
        if feed == "instrument":
            flow["pinched"] = pinched
        flow["gauge_kpa_before"] = self._draw_from(reference, supply * times[-1] / 60.0)
        return self.measuring(
            kind,
            self._pause_min(reference, times[-1]),
            reference=reference,
            path=where,
            application=self._count(kind, reference, feed, probe, pinched),
            feed=flow,
            gas_on_s=self.style.gas_on_s,
            readings=readings,
        )

    def swap_test(self, reference: str) -> str:
        """Put one bottle on at the tip of the shop's own, tight probe. Source: bench-record.md, "Step kinds"."""
        return self.test_gas(reference, "tip", probe="shop", kind="swap-test")

    def _times(self) -> tuple[float, ...]:
        hold = max(120.0, float(self.profile.hold_s))
        if self.style.traced:
            return tuple(np.arange(0.0, hold + self.style.gas_on_s + 1.0).tolist())
        return TYPED_TIMES_S if hold <= TYPED_TIMES_S[-1] else tuple(np.arange(0.0, hold + 1.0, 30.0).tolist())

    def _gas_at(self, reference: str, feed: str, probe: str, supply: float, *, pinched: bool, vent_open: bool) -> Gas:
        return gas_at(
            self.truth,
            self.bottles[reference],
            feed,
            probe=probe,
            supply_l_min=supply,
            pinched=pinched,
            vent_open=vent_open,
        )

    def _count(self, *what: Any) -> int:
        key = (self.phase, *what)
        self._applications[key] = self._applications.get(key, 0) + 1
        return self._applications[key]

    def _draw_from(self, reference: str, litres: float) -> int:
        gauge = self._gauges_kpa.get(reference, FULL_GAUGE_KPA)
        self._gauges_kpa[reference] = gauge - litres * GAUGE_PER_LITRE
        return round(gauge)

    def _pause_min(self, reference: str, hold_s: float) -> float:
        minutes = (hold_s + float(self.profile.purge_s)) / 60.0 + 1.0
        recovery = self.profile.recovery_after_high_co
        if recovery is not None and self.bottles[reference].get("co", 0.0) >= float(recovery.ppm):
            minutes += float(recovery.minutes)
        return minutes

    def adjust(self, channel: str, reference: str, feed: str = "instrument") -> bool:
        """Enter a bottle's certified value on its gas; the unit accepts it inside its adjustable range.

        The span factor moves by entered / shown, and with it the gain that the display has from now on. Returns
        whether the unit accepted. A unit without an adjustment for the channel refuses.
        Source: bench-record.md, step `adjust`; own derivation.
        """
        entered = float(self.head["references"][reference]["components"][gas_of(channel)]["value"])
        gas = self._gas_at(reference, feed, "owner", self.style.supply_l_min, pinched=False, vent_open=True)
        shown = end_value(self.truth, self._channel(channel), gas, self.room_air, self.zeroed_in_co_ppm)
        shown += float(self.generator.normal(0.0, 0.001)) * shown
        after = adjusted(self.truth, self.profile, channel, entered, shown)
        accepted = after is not None
        self.truth = after or self.truth
        unit = self.profile.channels[channel].unit
        self.happening(
            "adjust",
            6.0,
            channel=channel,
            reference=reference,
            entered={"unit": unit, "value": entered},
            accepted=accepted,
            attempt=1,
            signal={"before": None, "after": None},
        )
        return accepted

    def _channel(self, name: str) -> GasChannel:
        for channel in self.gas_channels:
            if channel.name == name:
                return channel
        raise StepError(f"the profile has no gas channel {name!r}")
