"""Tightness tests, temperatures, draft and flow at the simulated bench."""

from __future__ import annotations

import math
from typing import Any

from flueproof.analyzer.units import difference_from_core
from flueproof.simulate.physics.display import display_of, on_step
from flueproof.simulate.physics.gas_path import STALL_BELOW, dilution_at, plugged_pump, vacuum_after
from flueproof.simulate.physics.sensing import air_shown, draft_shown, stack_shown
from flueproof.simulate.visit_log import VisitLog

START_VACUUM_KPA = 8.0
UNKNOWN_VOLUME_ML = 60.0
"""Volume of a path whose profile does not say it [mL] (from memory)."""
TIGHTEST_SHARE = 2e-5
"""No path is perfectly tight: least leak that a vacuum sees, share of the flow [-] (from memory)."""


class SensorBench(VisitLog):
    """What the bench does without test gas; every method returns the id of its step."""

    def plug_test(self, feed: str = "tip", probe: str = "owner") -> str:
        """Close the inlet at a feed and listen to the pump. Source: as `gas_path.plugged_pump`."""
        pump, hiss = plugged_pump(self.truth, feed, probe=probe)
        return self.measuring(
            "plug-test",
            path={"feed": feed} | ({} if feed == "instrument" else {"probe": probe}),
            pump=pump,
            hiss_after_10_s=hiss,
        )

    def bulb_test(self) -> str:
        """Squeeze a bulb on the owner's probe assembly with its tip closed. Source: common practice, no source."""
        return self.measuring(
            "bulb-test", path={"feed": "tip", "probe": "owner"}, stays_flat=self.truth.dilution_probe < STALL_BELOW
        )

    def vacuum_hold(self, feed: str = "instrument") -> str:
        """Draw a vacuum at a feed, close and watch it. Source: as `gas_path.vacuum_after`."""
        share = dilution_at(self.truth, feed)
        volume = float(self.profile.dead_volume_ml or UNKNOWN_VOLUME_ML)
        times = (0, 10, 20, 30)
        shown = [
            on_step(
                vacuum_after(START_VACUUM_KPA, time, max(share, TIGHTEST_SHARE), self.truth.pump_flow_l_min, volume),
                0.01,
            )
            for time in times
        ]
        reading = {"channel": "vacuum", "unit": "kPa", "step": 0.01, "t_s": list(times), "shown": shown}
        return self.measuring(
            "vacuum-hold",
            path={"feed": feed},
            exhaust_capped=True,
            volume_ml=self.profile.dead_volume_ml,
            readings=[reading],
        )

    def temperature(self, reference: str, true_c: float, channel: str = "stack", of: str = "probe") -> str:
        """Hold a temperature channel against a thermometer at about true_c [degC].

        of: `probe`, `socket` or `air-sensor`. Source: as `sensing.stack_shown`, `sensing.air_shown`.
        """
        error = self._error_of(reference)
        shown_c = (
            air_shown(self.truth, true_c) if channel == "air" else stack_shown(self.truth, true_c, self.room_air, of=of)
        )
        if channel in self.truth.missing:
            shown_c = math.nan
        return self._against(reference, "temperature", channel, "degC", true_c + error, shown_c, of=of)

    def pressure(self, reference: str, true_pa: float, channel: str = "draft") -> str:
        """Hold the draft channel against a manometer at about true_pa [Pa]. Source: as `sensing.draft_shown`."""
        error = self._error_of(reference)
        return self._against(reference, "pressure", channel, "Pa", true_pa + error, draft_shown(self.truth, true_pa))

    def flow(self, reference: str) -> str:
        """Measure the pump's flow at the inlet of the instrument with a flow meter. Source: own model."""
        value = self.truth.pump_flow_l_min + self._error_of(reference)
        return self.measuring(
            "flow",
            path={"feed": "instrument"},
            reference=reference,
            reference_value={"unit": "l/min", "value": round(value, 2)},
        )

    def _against(
        self, reference: str, kind: str, channel: str, unit: str, value: float, shown: float, **extra: Any
    ) -> str:
        display = display_of(self.profile.channels[channel], us_units=self.style.us_units)
        per_core = difference_from_core(1.0, display.unit, display.core_unit)
        looks = shown + 0.2 * display.step / per_core * self.generator.standard_normal(3)
        reading = {
            "channel": channel,
            "unit": display.unit,
            "step": display.step,
            "shown": display.show(looks.tolist()),
        }
        return self.measuring(
            kind,
            4.0,
            channel=channel,
            **extra,
            reference=reference,
            reference_value={"unit": unit, "value": round(value, 1)},
            readings=[reading],
        )
