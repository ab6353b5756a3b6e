"""Gas saved by the online stopping rule against a fixed hold with the same p99 error.

Run: python benchmarks/stopping_rule.py [responses] [--limit 0.05]
Each simulated response (see settled_value.py) runs at 1 Hz; the rule looks every 5 s and stops when the settling part
of U is below a fifth of the limit (5 % of the value). The fixed hold reads the mean of the last ten seconds; its
length is what gives the same 99th percentile of the absolute error. A second fixed hold uses our settled value.
"""

from __future__ import annotations

import argparse

import numpy as np
from numpy.typing import NDArray
from settled_value import JUDGED_SEED, Response, last_ten, learned, simulate

from flueproof.readings.population import ResponsePrior
from flueproof.readings.settling import settle
from flueproof.readings.stopping import may_stop

FloatArray = NDArray[np.float64]

LONGEST_S, HOLD_S, LIMIT_SHARE, EVERY_S = 480.0, 180.0, 0.05, 5.0


def run_rule(
    response: Response, prior: ResponsePrior, limit_share: float, *, response_time_judged: bool
) -> tuple[float, float]:
    """Return when the rule stops [s] and the error then [% of the step]."""
    limit = limit_share * abs(response.step)
    seen_s = 25.0
    while True:
        verdict = may_stop(
            response.looks.until(seen_s),
            limit,
            HOLD_S,
            gas_on_s=0.0,
            prior=prior,
            response_time_judged=response_time_judged,
        )
        if verdict.stop or seen_s >= LONGEST_S:
            return seen_s, 100.0 * (verdict.settled.value - response.top) / response.step
        seen_s += EVERY_S


def p99(errors: FloatArray) -> float:
    return float(np.quantile(np.abs(errors), 0.99))


def hold_for(responses: list[Response], wanted: float, read: str, prior: ResponsePrior) -> tuple[float, float]:
    """Return the shortest fixed hold [s] whose p99 error is not above `wanted` [%], and that error."""
    for hold in np.arange(100.0, LONGEST_S + 1.0, 10.0):
        errors = []
        for response in responses:
            looks = response.looks.until(float(hold))
            value = last_ten(looks) if read == "last ten" else settle(looks, gas_on_s=0.0, prior=prior).value
            errors.append(100.0 * (value - response.top) / response.step)
        if p99(np.array(errors)) <= wanted:
            return float(hold), p99(np.array(errors))
    return LONGEST_S, p99(np.array(errors))


def report(title: str, stops: FloatArray, responses: list[Response], prior: ResponsePrior) -> None:
    reached = p99(stops[:, 1])
    print(
        f"\n{title}: mean gas {stops[:, 0].mean():.0f} s (5 % {np.quantile(stops[:, 0], 0.05):.0f}, "
        f"95 % {np.quantile(stops[:, 0], 0.95):.0f}), bias {stops[:, 1].mean():+.3f} %, p99 error {reached:.2f} %"
    )
    for read in ("last ten", "settled"):
        hold, error = hold_for(responses, reached, read, prior)
        saved = 1.0 - stops[:, 0].mean() / hold
        print(f"  fixed hold, {read:9s}: {hold:.0f} s for p99 {error:.2f} %; the rule saves {100 * saved:.0f} %")
    cut = np.array([[100 * (last_ten(one.looks.until(HOLD_S)) - one.top) / one.step] for one in responses])
    print(
        f"  fixed hold of {HOLD_S:.0f} s, last ten: p99 {p99(cut):.2f} %; the rule saves "
        f"{100 * (1 - stops[:, 0].mean() / HOLD_S):.0f} % of its gas"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("responses", nargs="?", type=int, default=800)
    parser.add_argument("--limit", type=float, default=LIMIT_SHARE, help="error limit as a share of the value")
    asked = parser.parse_args()
    prior = learned(300.0)
    judged = np.random.default_rng(JUDGED_SEED + 1)
    responses = [simulate(judged, end_s=LONGEST_S) for _ in range(asked.responses)]
    for title, timed in (("Settled value only", False), (f"Response time judged too, hold {HOLD_S:.0f} s", True)):
        stops = np.array([run_rule(one, prior, asked.limit, response_time_judged=timed) for one in responses])
        report(title, stops, responses, prior)


if __name__ == "__main__":
    main()
