"""A judgement as answers: what the bench measured enters as numbers with their uncertainty.

One phase is read, as found by default: causes are looked for in the analyzer as it came. What the judge leaves open
stays open here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from flueproof.bench.judgement import CheckResult, Judgement, PointJudgement
from flueproof.faults.inference.evidence import Number
from flueproof.faults.knowledge.knowledge import Knowledge

Found = dict[str, str | Number]
AIR_PCT = 20.9  # what the analyzer calls air; the definition of the judge's products
TIGHT, LEAKS = 0.1, 10.0  # likelihood ratios from which a tightness test decides (docs, decision 11)
RISES = {("co", "tip"): "co-rise-at-tip", ("co", "instrument"): "co-rise-at-inlet"} | {
    ("o2", "tip"): "o2-rise-at-tip",
    ("o2", "instrument"): "o2-rise-at-inlet",
}
RISE_U = 0.05  # standard uncertainty of a response time, relative; common practice, no source
FLOW_U = 0.02  # of a flow reading, relative; common practice, no source
FIGURES = {"as-set": "as-set", "basis": "another-basis", "fuel": "another-fuel"} | dict.fromkeys(
    ("air-zero", "air-fixed", "air-other"), "another-air-temperature"
)


def answers_from(judgement: Judgement, knowledge: Knowledge, phase: str = "as-found") -> Found:
    """Return what a judgement says to the observations of the tables.

    knowledge: observations it does not have are left out; phase: as-found or as-left.
    """
    path = _of_phase(judgement.gas_path, phase, judgement)
    cells = _of_phase(judgement.cells, phase, judgement)
    found: Found = {}
    for part in (_path(path), _tightness(path), _cells(cells), _checks(judgement, phase), _points(judgement, phase)):
        found.update(part)
    found.update(_displayed(judgement, phase))
    return {key: answer for key, answer in found.items() if key in knowledge.observations}


def _of_phase(part: Mapping[str, Any], phase: str, judgement: Judgement) -> Mapping[str, Any]:
    """Return the part of a phase; format 1 shows the first phase at the top and as left beside it."""
    has_found = judgement.as_found is not None or "as_left" in part
    if phase == "as-left":
        below: Mapping[str, Any] = part.get("as_left", {} if has_found else part)
        return below
    return part if has_found else {}


def _path(path: Mapping[str, Any]) -> Iterator[tuple[str, str | Number]]:
    probe = path.get("dilution", {}).get("probe", {})
    if probe.get("value") is not None and probe.get("u") is not None:
        yield "probe-dilution", Number(probe["value"], probe["u"])
    for feed, key in (("tip", "o2-excess-at-tip"), ("instrument", "o2-excess-at-inlet")):
        product = (path.get("p_o2") or {}).get(feed)
        if product is not None and product.get("value") is not None and product.get("u") is not None:
            yield key, Number(AIR_PCT * (1.0 - product["value"]), AIR_PCT * product["u"])
            yield "o2-settable", "yes"  # without its own setting in air there are no products


def _tightness(path: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    names = {"plug-test": "plug-test", "bulb-test": "bulb-test", "vacuum-hold": "vacuum-hold"}
    for one in path.get("evidence", ()):
        feed = {"tip": "tip", "instrument": "inlet"}.get(one["feed"])
        if one["kind"] not in names or feed is None or one["lr"] is None:
            continue
        said = "tight" if one["lr"] <= TIGHT else ("leaks" if one["lr"] >= LEAKS else "unclear")
        if one["kind"] == "bulb-test" and said == "unclear":
            continue
        yield f"{names[one['kind']]}-{feed}", said


def _cells(cells: Mapping[str, Any]) -> Iterator[tuple[str, Number]]:
    co = cells.get("co", {})
    if co.get("gain") is not None and co.get("gain_u") is not None:
        yield "co-gain", Number(co["gain"], co["gain_u"])
    elif co.get("gain_low") is not None and co.get("gain_high") is not None:
        low, high = co["gain_low"], co["gain_high"]  # what a leak still possible leaves open, any of it as likely
        yield "co-gain", Number(0.5 * (low + high), (high - low) / math.sqrt(12.0))
    if co.get("zero") is not None and co.get("zero_u") is not None:
        yield "co-zero", Number(co["zero"], co["zero_u"])


def _checks(judgement: Judgement, phase: str) -> Iterator[tuple[str, str | Number]]:
    feeds = {point.step: point.feed for point in judgement.points}
    for check in judgement.checks:
        if check.phase == phase:
            yield from _check(check, feeds.get(check.step))


def _check(check: CheckResult, feed: str | None) -> Iterator[tuple[str, str | Number]]:
    value, limit = check.value, check.limit
    if check.kind == "response" and limit and value is not None:
        key = RISES.get((check.channel or "", feed or _said_feed(check)))
        if key is not None and math.isfinite(value):
            yield key, Number(value / limit, RISE_U * value / limit)
        elif key is not None and check.ok is False:
            yield key, Number(1.0, RISE_U, at_least=True)
    elif check.kind == "flow" and value is not None and limit:
        yield "flow-at-inlet", Number(value / limit, FLOW_U * value / limit)
    elif check.kind == "linearity" and check.channel == "o2" and check.ok is not None:
        yield "o2-straight", "yes" if check.ok else "no"
    elif check.kind == "cross-sensitivity" and check.channel == "co" and value is not None:
        gas = "no" if " NO:" in check.text else "h2"
        yield f"{gas}-on-co", Number(value, 0.5)


def _said_feed(check: CheckResult) -> str:
    """Return the feed that the words of a response check name, where no test point shares its step."""
    return "tip" if "at the tip" in check.text else "instrument" if "at the instrument" in check.text else ""


def _points(judgement: Judgement, phase: str) -> Iterator[tuple[str, str | Number]]:
    points = [one for one in judgement.points if one.phase == phase and math.isfinite(one.error) and one.u > 0]
    hot = [one for one in points if one.channel == "stack" and one.reference >= 80.0]
    if hot:
        rise = max(hot, key=lambda one: one.reference)
        yield "stack-error", Number(rise.error / (rise.reference - 20.0), rise.u / (rise.reference - 20.0))
    for one in points:
        if one.channel == "air":
            yield "air-error", Number(one.error, one.u)
        if one.channel == "draft" and abs(one.reference) >= 5.0:
            yield "draft-error", Number(one.error / one.reference, one.u / abs(one.reference))
    pattern = _pattern([one for one in points if one.unit in {"%", "ppm"}])
    if pattern:
        yield "gas-pattern", pattern


def _pattern(points: list[PointJudgement]) -> str:
    """Return how the gas channels err together, "" when fewer than two were tested."""
    channels = {one.channel for one in points}
    if len(channels) < 2:
        return ""
    wrong = {one.channel: one for one in points if one.statement == "not-conform"}
    if not wrong:
        return "none"
    if len(wrong) == 1:
        return "one-channel"
    up = {channel: one.error > 0 for channel, one in wrong.items()}
    if up.pop("o2", None) and not any(up.values()):
        return "diluted"
    return "all-high" if all(one.error > 0 for one in wrong.values()) and "o2" not in wrong else "mixed"


def _displayed(judgement: Judgement, phase: str) -> Iterator[tuple[str, str]]:
    for one in judgement.displayed:
        if one.phase == phase and one.kind in FIGURES:
            yield "displayed-follows", FIGURES[one.kind]
