"""What is true of a simulated analyzer and its bench: the values that the judge must find or leave open."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from flueproof.simulate.errors import TruthError

FEEDS = ("tip", "handle", "hose", "after-trap", "instrument")
"""Where gas can go in, from the far end of the owner's path to the inlet of the instrument."""


@dataclass(frozen=True, slots=True)
class StepResponse:
    """How one channel follows a step of gas.

    dead_s, tau_s, tail_tau_s: dead time and the two time constants [s]; tail_share: part of the step that follows
    the slow constant [-].
    Raises: TruthError for a negative or zero constant or a share outside 0 to 1.
    Source: response model of the team's reference sheet, section 6 (own); ranges of the constants from issue 2.
    """

    dead_s: float = 5.0
    tau_s: float = 12.0
    tail_share: float = 0.06
    tail_tau_s: float = 70.0

    def __post_init__(self) -> None:
        if self.dead_s < 0 or self.tau_s <= 0 or self.tail_tau_s <= 0 or not 0 <= self.tail_share <= 1:
            raise TruthError(f"a response needs dead_s >= 0, time constants > 0 and a tail share of 0 to 1, got {self}")


FAST = StepResponse(dead_s=4.0, tau_s=7.0, tail_share=0.01, tail_tau_s=45.0)
SLOW_CELL = StepResponse(dead_s=6.0, tau_s=38.0, tail_share=0.15, tail_tau_s=150.0)
DEFAULT_RESPONSES: Mapping[str, StepResponse] = MappingProxyType(
    {
        "o2": FAST,
        "co": StepResponse(5.0, 12.0, 0.06, 70.0),
        "no": StepResponse(5.0, 10.0, 0.05, 60.0),
        "co2": StepResponse(3.0, 6.0, 0.0, 45.0),
        "co_high": StepResponse(3.0, 6.0, 0.0, 45.0),
    }
)


@dataclass(frozen=True, slots=True)
class Truth:
    """What is true of one analyzer on one day, before and after work on it (`dataclasses.replace`).

    Gas path. dilution_probe, dilution_instrument: room air drawn in, share of the flow [-]; probe_leak_at: the joint
    of the owner's path where it is drawn in, one of FEEDS; pinch_growth: factor by which the share of a leak grows
    when the inlet is pinched [-]; path_filter_tau_s: extra first-order lag of a clogged filter in the owner's path
    [s]; pump_flow_l_min [L/min]; pump_stalls: whether a healthy pump stops audibly when plugged; humid_air_seen:
    share of the room's water vapour that the O2 cell sees at switch-on [-]: 0 is the pure relation of
    bench-record.md, 1 makes dry gas with O2 read high by x_w.
    O2. o2_zero_pct: residual current, what O2-free gas shows [% O2]; o2_output: output relative to new [-];
    o2_lowest_output: the output below which 20.9 can no longer be set [-]; o2_saturation_pct: O2 at which the
    output is halved [% O2], inf when linear.
    Other gases. gain: what the display shows over what the cell is given, per channel [-]; zero: what it shows in
    clean air after its own zeroing, per channel [unit of the channel]; correction: the span factor that stands in
    the unit now, per channel [-]; dead: channels without any signal; missing: channels that show "----"; no_on_co,
    h2_on_co: ppm shown as CO per ppm of NO or H2 that reaches the cell [-].
    Temperature. probe_emf_error: relative error of the probe's thermoelectric voltage [-]; cold_junction_error_k [K];
    air_sensor_error_k [K]. Draft. draft_gain [-]; draft_zero_pa, left after zeroing [Pa].
    Display. responses: per channel, DEFAULT_RESPONSES for the rest; noise: sd per channel [unit of the channel];
    noise_time_s: correlation time [s]; repeatability: factor on the profile's repeatability [-].
    Raises: TruthError.
    Source: bench-record.md ("What the unit's own zeroing hides"); the rest own model, from memory.
    """

    dilution_probe: float = 0.0
    dilution_instrument: float = 0.0
    probe_leak_at: str = "hose"
    pinch_growth: float = 3.0
    path_filter_tau_s: float = 0.0
    pump_flow_l_min: float = 0.9
    pump_stalls: bool = True
    humid_air_seen: float = 0.0
    o2_zero_pct: float = 0.0
    o2_output: float = 1.0
    o2_lowest_output: float = 0.6
    o2_saturation_pct: float = math.inf
    gain: Mapping[str, float] = field(default_factory=dict)
    zero: Mapping[str, float] = field(default_factory=dict)
    correction: Mapping[str, float] = field(default_factory=dict)
    dead: frozenset[str] = frozenset()
    missing: frozenset[str] = frozenset()
    no_on_co: float = 0.0
    h2_on_co: float = 0.0
    probe_emf_error: float = 0.0
    cold_junction_error_k: float = 0.0
    air_sensor_error_k: float = 0.0
    draft_gain: float = 1.0
    draft_zero_pa: float = 0.0
    responses: Mapping[str, StepResponse] = field(default_factory=dict)
    noise: Mapping[str, float] = field(default_factory=dict)
    noise_time_s: float = 4.0
    repeatability: float = 1.0

    def __post_init__(self) -> None:
        for name in ("dilution_probe", "dilution_instrument", "humid_air_seen"):
            if not 0 <= getattr(self, name) <= 1:
                raise TruthError(f"{name} is a share and must lie in 0 to 1, got {getattr(self, name)}")
        if self.probe_leak_at not in FEEDS[:-1]:
            raise TruthError(f"probe_leak_at must be one of {FEEDS[:-1]}, got {self.probe_leak_at!r}")
        if self.o2_saturation_pct <= 0 or self.o2_output < 0 or self.pinch_growth < 1:
            raise TruthError("o2_saturation_pct must be > 0, o2_output >= 0 and pinch_growth >= 1")

    @property
    def co_gain(self) -> float:
        """Gain of the CO channel [-]."""
        return self.gain_of("co")

    @property
    def co_zero_ppm(self) -> float:
        """What CO shows in clean air after its own zeroing [ppm]."""
        return self.zero_of("co")

    @property
    def no_gain(self) -> float:
        """Gain of the NO channel [-]."""
        return self.gain_of("no")

    def gain_of(self, channel: str) -> float:
        """Return what the channel shows over what its cell is given [-]; 0 for a dead one."""
        return 0.0 if channel in self.dead else self.gain.get(channel, 1.0)

    def zero_of(self, channel: str) -> float:
        """Return what the channel shows in clean air after its own zeroing [unit of the channel]."""
        return 0.0 if channel in self.dead else self.zero.get(channel, 0.0)

    def response_of(self, channel: str) -> StepResponse:
        """Return how the channel follows a step of gas."""
        return self.responses.get(channel) or DEFAULT_RESPONSES.get(channel, FAST)
