"""The profile of an analyzer model: what it measures, what may be asked of it and what this shop can do to it."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass

from flueproof.analyzer.errors import NoLimitError
from flueproof.analyzer.limit import Limit, LimitAt

CHANNEL_KINDS = ("cell", "infrared", "thermocouple", "air-sensor", "pressure")
GAS_CHANNEL_KINDS = ("cell", "infrared")
POINT_KINDS = ("test-gas", "cross", "temperature", "pressure", "flow", "plug-test")
STEP_KINDS = ("test-gas", "plug-test", "bulb-test", "vacuum-hold", "temperature", "pressure", "flow")
FEEDS = ("tip", "handle", "hose", "after-trap", "instrument")
PARTS = ("probe", "socket", "air-sensor")
ADJUSTMENTS = ("zero", "span")
GASES = ("o2", "co", "no", "no2", "so2", "co2", "h2")


@dataclass(frozen=True, slots=True)
class FlowRange:
    """Flow of the unit's own pump [L/min]: lowest allowed, typical, highest."""

    low: float
    typical: float
    high: float
    source: str


@dataclass(frozen=True, slots=True)
class Response:
    """Longest permitted time to 90 % of a step at the tip, dead time included [s]."""

    t90_s: float
    source: str


@dataclass(frozen=True, slots=True)
class Repeatability:
    """Standard deviation of repeated applications: the larger of absolute [unit] and percent of the value [%].

    dof: degrees of freedom behind it [-], `inf` where it is taken as exactly known.
    """

    absolute: float
    percent: float
    dof: float
    source: str

    def s_at(self, reference: float) -> float:
        """Return the standard deviation of one application at a reference value [unit of the channel].

        Source: common practice, no source.
        """
        return max(self.absolute, self.percent / 100.0 * abs(reference))


@dataclass(frozen=True, slots=True)
class CrossLimit:
    """How much a channel may show of a gas that it should not see.

    gas: the interfering gas; limit_pct: largest permitted response [% of the given gas, both in ppm];
    spent_pct: what it shows once its filter or compensation is gone [%], None when not known; by: what keeps it away.
    """

    gas: str
    limit_pct: float
    spent_pct: float | None
    by: str
    source: str


@dataclass(frozen=True, slots=True)
class Channel:
    """One measured quantity, in its core unit (`%`, `ppm`, `degC`, `Pa`).

    low, high: range of use; step: display step; zeroed_in_air: set by the unit itself at its zeroing in room air, to
    `set_to`; clamp_low: lowest value the display can show; snap_to, snap_width: the display shows `snap_to` whenever
    the value is within `snap_width` of it; linear_claimed: three concentrations needed.
    """

    name: str
    title: str
    unit: str
    low: float
    high: float
    step: float
    kind: str
    zeroed_in_air: bool
    set_to: float | None
    clamp_low: float | None
    snap_to: float | None
    snap_width: float
    limits: tuple[Limit, ...]
    response: Response | None
    repeatability: Repeatability
    cross: Mapping[str, CrossLimit]
    linear_claimed: bool

    def limit_at(self, reference: float, phase: str, *, reading: float | None = None) -> LimitAt:
        """Return the limit at a reference value; where two lines meet, the first one written counts.

        reference, reading [unit of the channel]; phase: `as-found` or `as-left`.
        Raises: NoLimitError when no line covers the value.
        Source: the profile's own, per line.
        """
        for line in self.limits:
            if line.holds_for(reference, phase):
                value = line.value_at(reference, full_scale=self.high, reading=reading)
                return LimitAt(value, line.absolute, line.percent, line.of, line.source, line.combine)
        raise NoLimitError(
            f"channel {self.name}: no limit {phase} at {reference:g} {self.unit}; the channel runs from {self.low:g} "
            f"to {self.high:g} {self.unit}. Choose a reference in this range or add a line to the profile."
        )

    @property
    def measures_gas(self) -> bool:
        """Whether test gas is what the channel is compared with: a cell or an infrared bench (own rule)."""
        return self.kind in GAS_CHANNEL_KINDS

    @property
    def set_in_air(self) -> float | None:
        """What room air sets the channel to where air holds its gas in plenty (O2: 20.9) [unit], else None.

        A channel set to about nothing has its zero taken in air, which leaves its gain alone.
        Source: own rule (bench record, "what the unit's own zeroing hides").
        """
        return self.set_to if self.set_to is not None and self.set_to > 1.0 else None

    def zero_limit(self, phase: str) -> LimitAt:
        """Return the limit on gas without the component, or at a reference of 0.

        Raises: NoLimitError when no line covers 0.
        Source: the profile's own, per line.
        """
        return self.limit_at(0.0, phase)


@dataclass(frozen=True, slots=True)
class Point:
    """One test point of the procedure.

    kind: see POINT_KINDS; any_of: the step kinds of a bench record that fulfil it; channel: None for a path test;
    low, high: range the reference value must lie in [unit of the channel; for `cross` of the gas given]; gas: the
    gas given where it is not the channel's own; balance: balance gases that are right for it; of: part under test;
    required: a certificate without it is `limited`; feed: where the gas goes in.
    """

    id: str
    kind: str
    channel: str | None
    low: float | None
    high: float | None
    required: bool
    title: str
    feed: str | None = None
    of: str | None = None
    gas: str | None = None
    balance: tuple[str, ...] = ()
    any_of: tuple[str, ...] = ()

    def holds(self, reference: float) -> bool:
        """Return whether a reference value lies in the point's range (common practice, no source)."""
        return self.low is not None and self.high is not None and self.low <= reference <= self.high


@dataclass(frozen=True, slots=True)
class Adjust:
    """What this shop can adjust on a channel.

    can: `zero`, `span`; code_needed: a service code the shop must own; gain_low, gain_high: factors that the display
    takes in one entry [-]; how: in words.
    """

    channel: str
    can: tuple[str, ...]
    code_needed: bool
    gain_low: float
    gain_high: float
    how: str
    source: str


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of the unit.

    gain_low, gain_high: gain relative to new that an adjustment can make good [-]; end_gain: gain relative to new at
    which it is spent [-]; settle_hours: wait after fitting [h]; life: in words; filter_ppm_h: what its chemical
    filter takes up [ppm h], None when it has none or the figure is not known.
    """

    gas: str
    gain_low: float
    gain_high: float
    end_gain: float
    settle_hours: float
    life: str
    filter_ppm_h: float | None
    source: str


@dataclass(frozen=True, slots=True)
class Recovery:
    """Wait after high CO: above `ppm`, purge in clean air for `minutes` before the next reading counts."""

    ppm: float
    minutes: float
    source: str


@dataclass(frozen=True, slots=True)
class Zeroing:
    """When the unit zeroes itself in room air (`switch-on`, `on-request`) and how long that takes [s]."""

    when: tuple[str, ...]
    seconds: float
    source: str


@dataclass(frozen=True, slots=True)
class Profile:
    """All of one analyzer model; `sha256` is the hash of the file's bytes."""

    name: str
    version: str
    title: str
    source: str
    sha256: str
    warm_up_s: float
    hold_s: float
    purge_s: float
    pump_flow_l_min: FlowRange
    minimum_pressure_kpa: float
    leak_limit_pct: float
    leak_limit_source: str
    dead_volume_ml: float | None
    interval_months: int
    recovery_after_high_co: Recovery
    zeroing: Zeroing
    channels: Mapping[str, Channel]
    points: tuple[Point, ...]
    adjust: Mapping[str, Adjust]
    cells: Mapping[str, Cell]

    def required_points(self) -> tuple[Point, ...]:
        """Return the points that a certificate without `limited` in its title must hold.

        Source: the profile's own.
        """
        return tuple(point for point in self.points if point.required)

    def with_limits(self, limits: Mapping[str, tuple[Limit, ...]]) -> Profile:
        """Return the profile with other limits on the named channels (a published set, or the owner's own).

        limits: lines per channel; channels that the profile does not have are passed over.
        Source: the limits' own, per line.
        """
        changed = {
            name: dataclasses.replace(channel, limits=limits[name]) if name in limits else channel
            for name, channel in self.channels.items()
        }
        return dataclasses.replace(self, channels=changed)
