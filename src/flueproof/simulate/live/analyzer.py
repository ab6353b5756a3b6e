"""The simulated analyzer, live: put gas on, let time pass, look at the display. No sockets, no clock of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from flueproof.analyzer.profile_reader import shipped_profile
from flueproof.analyzer.units import difference_from_core
from flueproof.simulate.demo_visits.rack import demo_world
from flueproof.simulate.errors import StepError
from flueproof.simulate.feeding import adjusted, gas_at, gas_channels_of, gas_of_room
from flueproof.simulate.live.superposing import Put, superposed
from flueproof.simulate.physics.application import (
    NOISE_STEPS,
    Gas,
    GasChannel,
    end_value,
    repeat_deviation,
)
from flueproof.simulate.physics.bottles import draw_bottle
from flueproof.simulate.physics.display import Display, display_of
from flueproof.simulate.physics.response import noise_after
from flueproof.simulate.physics.sensing import Room, air_shown, draft_shown, stack_shown
from flueproof.simulate.truth import FEEDS, StepResponse, Truth

SUPPLY_L_MIN: Final = 1.8
SETTLED_S: Final = 3600.0
"""After an hour the slowest cell here has settled to 1e-10 of a step (own model)."""
DRAFT_RESPONSE: Final = StepResponse(dead_s=0.2, tau_s=0.5, tail_share=0.0, tail_tau_s=1.0)
"""A pressure sensor follows at once, on the scale of a bench (from memory)."""


@dataclass(frozen=True, slots=True)
class LiveReading:
    """What one channel shows now: number on the display step, or text; unit and step [unit] of the display."""

    channel: str
    unit: str
    step: float
    shown: float | int | str


@dataclass(frozen=True, slots=True)
class Feed:
    """What flows in: a bottle of the demo's rack and where, None for the room's air; CO in the room then [ppm]."""

    room_co_ppm: float
    bottle: str | None = None
    feed: str = "tip"
    pinched: bool = False


class LiveAnalyzer:
    """One simulated analyzer that has just been switched on in room air.

    profile: name of a shipped profile; truth: what is true of it, may be replaced at any time; seed: of all chance;
    us_units: degF and inH2O on the display; room: the air around it.
    What the bottles truly hold is drawn once, from what their certificates state.
    Raises: SimulationError.
    Source: physics as documented in flueproof.simulate.physics.
    """

    def __init__(
        self,
        profile: str = "two-cell-residential",
        truth: Truth | None = None,
        *,
        seed: int = 1,
        us_units: bool = True,
        room: Room | None = None,
    ) -> None:
        self.profile = shipped_profile(profile)
        self.truth = truth or Truth()
        self.room = room or Room()
        self.time_s = 0.0
        self._generator = np.random.default_rng([seed, 3])
        self.bottles: dict[str, dict[str, float]] = {
            name: draw_bottle(reference, self._generator)
            for name, reference in demo_world()["references"].items()
            if reference["kind"] == "test-gas"
        }
        self._gas_channels = {one.name: one for one in gas_channels_of(self.profile)}
        self._displays = {name: display_of(one, us_units=us_units) for name, one in self.profile.channels.items()}
        self._zeroed_in_co_ppm = self.room.co_ppm
        self._feeds: list[Put[Feed]] = [Put(0.0, Feed(self.room.co_ppm))]
        self._deviations: list[Mapping[str, float]] = [{}]
        self._tip_c: list[Put[float]] = [Put(0.0, self.room.air_c)]
        self._draft_pa: list[Put[float]] = [Put(0.0, 0.0)]
        self._noise = dict.fromkeys(self._displays, 0.0)

    @property
    def feed(self) -> Feed:
        """Return what flows in now."""
        return self._feeds[-1].what

    @property
    def displays(self) -> Mapping[str, Display]:
        """Return how each channel is shown, in the order of the display."""
        return self._displays

    def gas_on(self, bottle: str, feed: str = "tip", *, pinched: bool = False) -> None:
        """Put a bottle of the demo's rack on at one of FEEDS; a second call is a second application.

        Raises: StepError for an unknown bottle or feed.
        """
        if bottle not in self.bottles:
            raise StepError(f"the rack has no {bottle!r}; it has {', '.join(self.bottles)}")
        if feed not in FEEDS:
            raise StepError(f"feed {feed!r} is unknown; the gas can go in at {', '.join(FEEDS)}")
        if pinched and feed != "instrument":
            raise StepError("only the inlet of the instrument can be pinched: feed at instrument")
        self._put(Feed(self.room.co_ppm, bottle, feed, pinched))

    def gas_off(self) -> None:
        """Take the gas off: room air flows in again."""
        if self.feed.bottle is not None:
            self._put(Feed(self.room.co_ppm))

    def temperature(self, true_c: float) -> None:
        """Put the probe into a source of heat at true_c [degC]. Raises: StepError outside type K's range."""
        if not -200.0 <= true_c <= 1300.0:
            raise StepError(f"temperature {true_c:g} degC is outside -200 to 1300")
        self._tip_c.append(Put(self.time_s, true_c))

    def draft(self, true_pa: float) -> None:
        """Put a pressure on the draft port [Pa], suction negative. Raises: StepError beyond 20 kPa."""
        if not abs(true_pa) <= 20_000.0:
            raise StepError(f"draft {true_pa:g} Pa is beyond 20000")
        self._draft_pa.append(Put(self.time_s, true_pa))

    def room_co(self, ppm: float) -> None:
        """Let CO into the room's air [ppm]; at the inlet it follows like a gas. Raises: StepError outside 0 to 1000."""
        if not 0.0 <= ppm <= 1000.0:
            raise StepError(f"CO in the room of {ppm:g} ppm is outside 0 to 1000")
        self.room = replace(self.room, co_ppm=ppm)
        same_application = self._deviations[-1]
        self._put(replace(self.feed, room_co_ppm=ppm))
        self._deviations[-1] = same_application

    def zero(self) -> bool:
        """Let the unit set its zeros in room air, CO in it included; it refuses while gas is on."""
        if self.feed.bottle is not None:
            return False
        self._zeroed_in_co_ppm = self.room.co_ppm
        return True

    def adjust(self, channel: str, entered: float) -> bool:
        """Enter a value for what flows now; return whether the unit took it. Too early, it spoils the gain.

        entered [unit of the channel]. Raises: StepError for a channel that is no gas channel.
        """
        if channel not in self._gas_channels:
            raise StepError(f"no gas channel {channel!r}; there are {', '.join(self._gas_channels)}")
        after = adjusted(self.truth, self.profile, channel, entered, self._gas_value(self._gas_channels[channel]))
        self.truth = after or self.truth
        return after is not None

    def step(self, seconds: float) -> tuple[LiveReading, ...]:
        """Let time pass [s] and return what every channel shows then. Raises: StepError for time running backwards."""
        if not seconds >= 0.0:
            raise StepError(f"time does not run backwards: {seconds:g} s")
        self.time_s += seconds
        self._forget_settled()
        readings = []
        for name, display in self._displays.items():
            draw = float(self._generator.standard_normal())
            self._noise[name] = noise_after(self._noise[name], seconds, self.truth.noise_time_s, draw)
            shown = display.show([self._value(name) + self._noise[name] * self._noise_sd(name)])
            readings.append(LiveReading(name, display.unit, display.step, shown[0]))
        return tuple(readings)

    def _forget_settled(self) -> None:
        while len(self._feeds) > 1 and self.time_s - self._feeds[1].at_s > SETTLED_S:
            del self._feeds[0], self._deviations[0]
        for puts in (self._tip_c, self._draft_pa):
            while len(puts) > 1 and self.time_s - puts[1].at_s > SETTLED_S:
                del puts[0]

    def _put(self, feed: Feed) -> None:
        self._feeds.append(Put(self.time_s, feed, self._gas(feed).lag_s))
        ends = {name: self._end(one, feed) for name, one in self._gas_channels.items()}
        fresh = {
            name: repeat_deviation(self.truth, self._gas_channels[name], end, self._generator)
            for name, end in ends.items()
            if np.isfinite(end)
        }
        self._deviations.append(fresh if feed.bottle is not None else {})

    def _gas(self, feed: Feed) -> Gas:
        if feed.bottle is None:
            room = replace(self.room, co_ppm=feed.room_co_ppm)
            return replace(gas_of_room(room), lag_s=self.truth.path_filter_tau_s)
        content = self.bottles[feed.bottle]
        return gas_at(self.truth, content, feed.feed, supply_l_min=SUPPLY_L_MIN, pinched=feed.pinched)

    def _end(self, channel: GasChannel, feed: Feed) -> float:
        room = replace(self.room, co_ppm=feed.room_co_ppm)
        return end_value(self.truth, channel, self._gas(feed), room, self._zeroed_in_co_ppm)

    def _gas_value(self, channel: GasChannel) -> float:
        ends = [
            self._end(channel, put.what) + deviations.get(channel.name, 0.0)
            for put, deviations in zip(self._feeds, self._deviations, strict=True)
        ]
        return superposed(self._feeds, ends, self.time_s, self.truth.response_of(channel.name))

    def _value(self, name: str) -> float:
        """Return what a channel would show without noise and display [core unit]; nan when it is missing."""
        if name in self._gas_channels:
            return self._gas_value(self._gas_channels[name])
        if name in self.truth.missing:
            return float("nan")
        if name == "stack":
            ends = [put.what for put in self._tip_c]
            tip_c = superposed(self._tip_c, ends, self.time_s, self.truth.response_of(name))
            return stack_shown(self.truth, tip_c, self.room, of="probe")
        if name == "draft":
            response = self.truth.responses.get(name, DRAFT_RESPONSE)
            ends = [put.what for put in self._draft_pa]
            return draft_shown(self.truth, superposed(self._draft_pa, ends, self.time_s, response))
        return air_shown(self.truth, self.room.air_c)

    def _noise_sd(self, name: str) -> float:
        display = self._displays[name]
        per_core = difference_from_core(1.0, display.unit, display.core_unit)
        return self.truth.noise.get(name, NOISE_STEPS * display.step / per_core)
