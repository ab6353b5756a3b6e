"""What plug test, bulb, vacuum hold and pinched feed say about a leak, as likelihood ratios."""

from __future__ import annotations

import functools
import math
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from importlib import resources
from typing import Any

from flueproof.analyzer.gas_path.dilution import STRONGEST
from flueproof.analyzer.gas_path.products import Products

ATMOSPHERE_KPA = 101.325


@dataclass(frozen=True, slots=True)
class PathTest:
    """A tightness test as the bench saw it.

    kind: `plug-test`, `bulb-test`, `vacuum-hold` or `pinched`; feed: where the plug or the pinch sat.
    saw: the pump's or bulb's answer; hiss: whether vacuum was left after 10 s, None when not listened for.
    volume_ml: gas volume of this hold, None when not known [mL]; capped: whether the exhaust was closed, without which
    a hold says nothing.
    vacuum_kpa, times_s: the hold's course [kPa below the room], [s].
    """

    step: str
    kind: str
    feed: str
    saw: str | None = None
    hiss: bool | None = None
    vacuum_kpa: tuple[float, ...] = ()
    times_s: tuple[float, ...] = ()
    volume_ml: float | None = None
    capped: bool = True


@dataclass(frozen=True, slots=True)
class Evidence:
    """A likelihood ratio "leak above the limit behind this feed" to "tight" with its words."""

    step: str
    kind: str
    feed: str
    ratio: float
    text: str


@functools.cache
def path_evidence_table() -> dict[str, Any]:
    """Return the table of planning figures (common practice, no source; see data/path_evidence.toml)."""
    text = resources.files("flueproof.analyzer").joinpath("data/path_evidence.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def strong_ratio() -> float:
    """Return the likelihood ratio from which evidence decides [-] (after Jeffreys' scale, from memory)."""
    return float(path_evidence_table()["strong"])


def evidence_of(
    test: PathTest, *, pump_flow_l_min: float, leak_limit: float, volume_ml: float | None
) -> Evidence | None:
    """Return what one tightness test says, or None when it says nothing.

    pump_flow_l_min: the pump's flow [L/min]; leak_limit: largest share of it that may leak [fraction];
    volume_ml: gas volume behind the plug [mL], None when unknown.
    Source: shares from data/path_evidence.toml (common practice, no source); hold: own derivation from the ideal
    gas law, leak = (V/p0) dp/dt (pattern: 40 CFR 1065.345).
    """
    if test.kind == "plug-test":
        return _plug(test)
    if test.kind == "bulb-test":
        return _bulb(test)
    if test.kind == "vacuum-hold":
        return _hold(test, pump_flow_l_min, leak_limit, test.volume_ml or volume_ml) if test.capped else None
    return None


def _share_ratio(row: dict[str, float]) -> float:
    return row["leak"] / row["tight"]


def _plug(test: PathTest) -> Evidence | None:
    table = path_evidence_table()
    ratio, words = 1.0, []
    if test.saw is not None and test.saw in table["plug-test"]:
        ratio *= _share_ratio(table["plug-test"][test.saw])
        words.append(
            {
                "stalls": "the pump stalls",
                "slows": "the pump only slows",
                "runs-on": "the pump runs on",
                "alarm": "the flow alarm comes",
            }[test.saw]
        )
    if test.hiss is not None:
        # The hiss and the stall are two looks at one seal: the hiss adds only where the pump's answer is unclear.
        own = _share_ratio(table["hiss-after-10-s"]["yes" if test.hiss else "no"])
        agrees = (own < 1.0) == (ratio < 1.0)
        ratio = (min(ratio, own) if own < 1.0 else max(ratio, own)) if agrees else ratio * own
        words.append("a hiss after 10 s" if test.hiss else "no hiss after 10 s")
    if not words:
        return None
    return Evidence(test.step, test.kind, test.feed, ratio, f"Plugged at the {test.feed}: {', '.join(words)}.")


def _bulb(test: PathTest) -> Evidence | None:
    if test.saw not in {"flat", "fills"}:
        return None
    ratio = _share_ratio(path_evidence_table()["bulb-test"][test.saw])
    words = "stays flat" if test.saw == "flat" else "fills"
    return Evidence(test.step, test.kind, test.feed, ratio, f"Bulb at the {test.feed}, tip closed: it {words}.")


def _hold(test: PathTest, flow: float, leak_limit: float, volume_ml: float | None) -> Evidence | None:
    pairs = [(time, value) for time, value in zip(test.times_s, test.vacuum_kpa, strict=False) if math.isfinite(value)]
    if len(pairs) < 2 or pairs[-1][0] <= pairs[0][0]:
        return None
    table = path_evidence_table()["vacuum-hold"]
    minutes = (pairs[-1][0] - pairs[0][0]) / 60.0
    lost = pairs[0][1] - pairs[-1][1]
    volumes = (volume_ml, volume_ml) if volume_ml else (table["smallest_volume_ml"], table["largest_volume_ml"])
    shares = [volume / 1000.0 * max(lost, 0.0) / ATMOSPHERE_KPA / minutes / flow for volume in volumes]
    gone = pairs[-1][1] < 0.1 * pairs[0][1]  # nothing left: the loss is only a lower limit
    if shares[1] <= leak_limit and not gone:
        ratio = float(table["wrong"])
    elif shares[0] > leak_limit or gone:
        ratio = 1.0 / float(table["wrong"])
    else:
        ratio = 1.0
    text = f"Vacuum hold at the {test.feed}: {lost:.2g} kPa lost in {minutes * 60:.0f} s of {pairs[0][1]:.2g} kPa."
    return Evidence(test.step, test.kind, test.feed, ratio, text)


def pinched_evidence(products: Products, step: str) -> Evidence | None:
    """Return what feeding with the inlet pinched says: a leak's share grows, a residual current's does not.

    Source: own derivation; least growth from data/path_evidence.toml (common practice, no source).
    """
    if not (products.has("o2", "instrument") and products.has("o2", "instrument-pinched")):
        return None
    first = products.names.index(("o2", "instrument"))
    second = products.names.index(("o2", "instrument-pinched"))
    growth = float(products.values[first] - products.values[second])  # of 1 - P
    excess = 1.0 - float(products.values[first])
    cov = products.covariance
    variance = float(cov[first, first] + cov[second, second] - 2.0 * cov[first, second])
    least = (float(path_evidence_table()["pinched"]["least_growth"]) - 1.0) * max(excess, 0.0)
    if variance <= 0.0 or least <= 0.0:
        return None
    missing = min(growth - least, 0.0)
    log_ratio = (
        (growth**2 - missing**2) / (2.0 * variance) if growth > 0 else -(missing**2 - growth**2) / (2.0 * variance)
    )
    bound = math.log(STRONGEST)
    ratio = math.exp(max(-bound, min(bound, log_ratio)))
    text = f"With the inlet pinched the share of air went from {100 * excess:.2f} % to {100 * (excess + growth):.2f} %."
    return Evidence(step, "pinched", "instrument", ratio, text)


def joined_ratio(evidence: Sequence[Evidence]) -> float:
    """Return the product of independent likelihood ratios, bounded [-].

    Source: Bayes' rule in odds form, from memory; independence is assumed.
    """
    ratio = 1.0
    for one in evidence:
        ratio *= one.ratio
    return min(max(ratio, 1.0 / STRONGEST), STRONGEST)
