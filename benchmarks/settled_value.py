"""Settled value of simulated responses cut at 120 s, beside the mean of the last ten seconds.

Run: python benchmarks/settled_value.py [responses]
Responses: first order 8 to 20 s, tail 3 to 12 % of 45 to 110 s, dead time 3 to 9 s, steps of 100 and 450 ppm rising or
falling O2 of 20.9 %, display steps of 1 ppm and 0.1 %, first-order autoregressive noise, dropped, doubled and unevenly
timed samples. The response prior is learned from other traces (other seed).
"""

from __future__ import annotations

import argparse
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from flueproof.readings.population import ResponsePrior, learn_population
from flueproof.readings.settling import SettledValue, settle
from flueproof.readings.shown import Looks, read_shown

FloatArray = NDArray[np.float64]

TEACHING_SEED, JUDGED_SEED = 20_260_101, 20_260_202
TYPED_S = np.array([0.0, 30.0, 60.0, 90.0, 120.0])


@dataclass(frozen=True)
class Response:
    """One simulated response with its truth [ppm or %, s]."""

    looks: Looks
    top: float
    step: float
    tail_share: float
    left: float


def missing(since_s: FloatArray | float, tau: float, share: float, slow: float) -> FloatArray:
    return np.asarray((1.0 - share) * np.exp(-np.asarray(since_s) / tau) + share * np.exp(-np.asarray(since_s) / slow))


def noise(times: FloatArray, sd: float, correlation_s: float, generator: np.random.Generator) -> FloatArray:
    draws = generator.standard_normal(len(times))
    series = np.empty(len(times))
    series[0] = draws[0]
    for place in range(1, len(times)):
        kept = np.exp(-(times[place] - times[place - 1]) / correlation_s)
        series[place] = kept * series[place - 1] + np.sqrt(1.0 - kept * kept) * draws[place]
    return sd * series


def sample_times(end_s: float, generator: np.random.Generator) -> FloatArray:
    """1 Hz with a wandering clock, one sample in fifty dropped and one doubled."""
    times = np.arange(0.0, end_s + 0.5) + np.append(0.0, generator.uniform(-0.2, 0.2, int(end_s)))
    times = times[(generator.random(len(times)) > 0.02) | (times == times[0])]
    return np.sort(np.concatenate((times, times[generator.random(len(times)) < 0.02])))


def simulate(
    generator: np.random.Generator, *, end_s: float = 120.0, typed: bool = False, o2: bool = False
) -> Response:
    tau, share = generator.uniform(8.0, 20.0), generator.uniform(0.03, 0.12)
    slow, dead = generator.uniform(45.0, 110.0), generator.uniform(3.0, 9.0)
    start, top = (20.9, 0.2) if o2 else (0.0, float(generator.choice([100.0, 450.0])))
    step = 0.1 if o2 else 1.0
    sd = step * generator.uniform(0.2, 1.0)
    times = TYPED_S if typed else sample_times(end_s, generator)
    since = np.maximum(times - dead, 0.0)
    true = start + (top - start) * (1.0 - missing(since, tau, share, slow))
    shown = np.round((true + noise(times, sd, generator.uniform(1.0, 5.0), generator)) / step) * step
    looks = read_shown(shown, times, step)
    return Response(looks, top, top - start, share, float(missing(end_s - dead, tau, share, slow)))


def last_ten(looks: Looks) -> float:
    times = np.asarray(looks.times_s)
    return float(np.mean(looks.values[times > times[-1] - 10.0]))


def errors_pct(response: Response, settled: SettledValue) -> tuple[float, ...]:
    size = abs(response.step) / 100.0
    sign = np.sign(response.step)
    return (
        sign * (settled.value - response.top) / size,
        settled.u / size,
        float(settled.low <= response.top <= settled.high),
        (settled.high - settled.low) / size,
        sign * (last_ten(response.looks) - response.top) / size,
        float(abs(settled.value - response.top) <= 1.96 * settled.u),
    )


def line(name: str, rows: FloatArray) -> str:
    rms, rms_ten = np.sqrt(np.mean(rows[:, 0] ** 2)), np.sqrt(np.mean(rows[:, 4] ** 2))
    return (
        f"{name:22s}{len(rows):6d}{rows[:, 0].mean():+8.3f}{rows[:, 1].mean():7.3f}{rms:7.3f}{rows[:, 2].mean():7.3f}"
        f"{rows[:, 5].mean():8.3f}{rows[:, 3].mean():7.2f}{rows[:, 4].mean():+9.2f}{rms_ten:7.2f}{rms_ten / rms:7.2f}"
    )


def table(title: str, responses: list[Response], prior: ResponsePrior | None) -> None:
    begin = time.process_time()
    settled = [settle(response.looks, gas_on_s=0.0, prior=prior) for response in responses]
    cost_ms = 1e3 * (time.process_time() - begin) / len(responses)
    rows = np.array([errors_pct(response, value) for response, value in zip(responses, settled, strict=True)])
    share = np.array([response.tail_share for response in responses])
    left = np.array([response.left for response in responses])
    thirds, slow = np.quantile(share, [1 / 3, 2 / 3]), np.quantile(left, 0.9)
    size = np.array([abs(response.step) for response in responses])
    print(f"\n{title}: {cost_ms:.1f} ms of CPU each; errors in % of the step")
    print(
        f"{'':22s}{'n':>6}{'bias':>8}{'u':>7}{'RMS':>7}{'cover':>7}{'1.96u':>8}{'width':>7}"
        f"{'10s bias':>9}{'RMS':>7}{'ratio':>7}"
    )
    print(line("all", rows))
    for height in np.unique(size):
        print(line(f"step {height:g}", rows[size == height]))
    print(line("tail share, low third", rows[share < thirds[0]]))
    print(line("tail share, mid third", rows[(share >= thirds[0]) & (share < thirds[1])]))
    print(line("tail share, high third", rows[share >= thirds[1]]))
    print(line("slowest tenth", rows[left >= slow]))


def learned(end_s: float, *, traces: int = 300, o2: bool = False) -> ResponsePrior:
    teaching = np.random.default_rng(TEACHING_SEED)
    return learn_population([(simulate(teaching, end_s=end_s, o2=o2).looks, 0.0) for _ in range(traces)])


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("responses", nargs="?", type=int, default=2000)
    asked = parser.parse_args()
    judged = np.random.default_rng(JUDGED_SEED)
    co = [simulate(judged) for _ in range(asked.responses)]
    o2 = [simulate(judged, o2=True) for _ in range(asked.responses // 4)]
    typed = [simulate(judged, typed=True) for _ in range(asked.responses // 2)]
    short, long = learned(120.0), learned(300.0)
    table("CO, prior from 300 traces of 120 s", co, short)
    table("CO, prior from 300 traces of 300 s", co, long)
    table("CO, no population known", co[: asked.responses // 4], None)
    table("O2 falling, prior from CO traces of 300 s", o2, long)
    table("CO typed at 0/30/60/90/120 s, prior of 300 s", typed, long)
    table("CO typed, no population known", typed, None)


if __name__ == "__main__":
    main()
