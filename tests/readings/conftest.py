"""Simulated responses with their truth, for the tests of readings."""

from dataclasses import dataclass, replace

import numpy as np
import pytest

from flueproof.readings.response.prior import ResponsePrior
from flueproof.readings.shown import read_shown

TYPED_S = (0.0, 30.0, 60.0, 90.0, 120.0)


@dataclass(frozen=True)
class Response:
    """A response: reading before and at the end [unit], shape [s, -, s, s], noise [unit] and display step [unit]."""

    top: float = 450.0
    start: float = 0.0
    fast_s: float = 12.0
    tail_share: float = 0.08
    slow_s: float = 75.0
    dead_s: float = 5.0
    noise: float = 0.5
    correlation_s: float = 2.0
    step: float = 1.0
    gas_on_s: float = 0.0

    def exact(self, times):
        since = np.maximum(np.asarray(times) - self.gas_on_s - self.dead_s, 0.0)
        left = (1 - self.tail_share) * np.exp(-since / self.fast_s) + self.tail_share * np.exp(-since / self.slow_s)
        return self.start + (self.top - self.start) * (1.0 - left)

    def shown(self, times, seed=0):
        generator = np.random.default_rng(seed)
        draws = generator.standard_normal(len(times))
        series = [draws[0]]
        for gap, draw in zip(np.diff(times), draws[1:], strict=True):
            kept = np.exp(-gap / self.correlation_s)
            series.append(kept * series[-1] + np.sqrt(1 - kept * kept) * draw)
        return np.round((self.exact(times) + self.noise * np.array(series)) / self.step) * self.step

    def looks(self, times=None, seed=0):
        times = np.arange(0.0, 121.0) if times is None else np.asarray(times, dtype=float)
        return read_shown(self.shown(times, seed), times, self.step)


def drawn_response(generator, **fixed):
    """A response of the population of the issue: 8 to 20 s, 3 to 12 % of 45 to 110 s, dead time 3 to 9 s."""
    drawn = Response(
        top=float(generator.choice([100.0, 450.0])),
        fast_s=generator.uniform(8, 20),
        tail_share=generator.uniform(0.03, 0.12),
        slow_s=generator.uniform(45, 110),
        dead_s=generator.uniform(3, 9),
        noise=generator.uniform(0.2, 1.0),
        correlation_s=generator.uniform(1, 5),
    )
    return replace(drawn, **fixed)


@pytest.fixture
def response():
    return Response()


@pytest.fixture(scope="session")
def make_response():
    return Response


@pytest.fixture(scope="session")
def draw_response():
    return drawn_response


@pytest.fixture(scope="session")
def population_prior():
    """The moments of the population of `drawn_response`, known and not learned."""
    fast, slow = np.log(np.linspace(8, 20, 999)), np.log(np.linspace(45, 110, 999))
    spread = np.diag([fast.var(), 0.09**2 / 12, slow.var(), 36 / 12])
    return ResponsePrior(
        (float(fast.mean()), 0.075, float(slow.mean()), 6.0), tuple(tuple(row) for row in spread.tolist())
    )
