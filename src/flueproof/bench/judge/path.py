"""The gas path of one phase: products, dilution, where air comes in, and what that leaves of gain and zero."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from flueproof.analyzer.gas_path.dilution import Dilution, excess_air
from flueproof.analyzer.gas_path.evidence import Evidence, PathTest, evidence_of, pinched_evidence
from flueproof.analyzer.gas_path.location import INSTRUMENT, LeakFinding, PlaceState, locate_leak
from flueproof.analyzer.gas_path.observation import GasObservation, ZeroKnowledge
from flueproof.analyzer.gas_path.products import ZERO, Products, fit_products
from flueproof.analyzer.profile import Channel, Profile
from flueproof.bench.bundle import Bundle
from flueproof.bench.judge.measured import Measured
from flueproof.bench.judge.points import GAS_STEP_KINDS, repeatability_of


@dataclass(frozen=True, slots=True)
class CellState:
    """What is known of a cell through the present calibration.

    gain: reading per unit of gas [-] (O2: None, it is set in air); zero: reading without the gas [unit of channel].
    None where gas alone cannot tell; low, high: what it can be then.
    """

    channel: str
    gain: float | None
    gain_u: float | None
    gain_low: float
    gain_high: float
    zero: float | None
    zero_u: float | None


@dataclass(frozen=True, slots=True)
class GasPath:
    """Everything gas and tightness tests say about the path in one phase."""

    phase: str
    products: Products | None
    finding: LeakFinding
    cells: Mapping[str, CellState]
    observations: tuple[GasObservation, ...]


def observations_of(
    measured: Sequence[Measured], contents: Mapping[str, Mapping[str, float]], profile: Profile, bundle: Bundle
) -> list[GasObservation]:
    """Return the gas observations among settled readings.

    contents: certified contents of the blend at each step, by gas name [channel units].
    A clamped zero on a gas that holds the component counts as a reading of nothing; a snapped O2 as air.
    Source: own rule (bench record, "what the unit's own zeroing hides").
    """
    found = []
    for one in measured:
        channel = profile.channels[one.channel]
        if one.kind not in GAS_STEP_KINDS or not channel.measures_gas or one.reference is None:
            continue
        shown, u_shown = _shown(one, channel)
        if shown is None:
            continue
        scatter, _ = repeatability_of(channel, bundle, one.reference.value)
        others = {
            gas: value
            for gas, value in contents.get(one.step, {}).items()
            if gas in channel.cross and gas != one.channel
        }
        observation = GasObservation(
            step=one.step,
            feed=feed_key(one),
            channel=one.channel,
            gas=one.reference.value,
            u_gas=one.reference.u_certificate,
            shown=shown,
            u_shown=u_shown,
            u_repeat=scatter,
            bottle=one.reference.identifier,
            supplier=one.reference.supplier,
            cause=one.reference.cause,
            others=others,
            set_to=channel.set_in_air,
        )
        found.append(observation)
    return found


def feed_key(one: Measured) -> str:
    """Return the feed as the gas path names it: pinched and foreign probes are places of their own (own rule)."""
    feed = one.feed or INSTRUMENT
    if one.kind == "swap-test" and one.probe == "owner":
        return f"{feed}-on-control"
    if one.pinched:
        return f"{feed}-pinched"
    return f"{feed}-shop-probe" if one.probe == "shop" and feed != INSTRUMENT else feed


def _shown(one: Measured, channel: Channel) -> tuple[float | None, float]:
    settled = one.settled
    if one.number is not None:
        return one.number, math.sqrt(settled.u_settling**2 + settled.u_noise**2 + settled.u_step**2)
    reference = one.reference.value if one.reference is not None else 0.0
    if settled.bound == "below" and channel.clamp_low is not None:
        # a clamped zero on a gas without the component says nothing of a negative zero: only O2 is never negative
        return (
            (channel.clamp_low, channel.step / math.sqrt(3.0)) if reference > 0 or channel.set_in_air else (None, 0.0)
        )
    if settled.bound == "snapped" and channel.snap_to is not None:
        return channel.snap_to, max(channel.snap_width, channel.step) / math.sqrt(3.0)
    return None, 0.0


def gas_path_of(
    phase: str,
    observations: Sequence[GasObservation],
    tests: Sequence[PathTest],
    zeros: Sequence[ZeroKnowledge],
    profile: Profile,
) -> GasPath:
    """Estimate the path of one phase.

    observations, tests: of this phase; zeros: knowledge of zeros from the room air at switch-on.
    Source: own derivation (see analyzer/gas_path).
    """
    products = fit_products(observations, zeros)
    limit = profile.leak_limit_pct / 100.0
    evidence: list[Evidence] = []
    for test in tests:
        said = evidence_of(
            test, pump_flow_l_min=profile.pump_flow_l_min.typical, leak_limit=limit, volume_ml=profile.dead_volume_ml
        )
        if said is not None:
            evidence.append(said)
    pinched = next((one.step for one in observations if one.feed == f"{INSTRUMENT}-pinched"), None)
    if products is not None and pinched is not None:
        said = pinched_evidence(products, pinched)
        if said is not None:
            evidence.append(said)
    finding = locate_leak(products, evidence, limit)
    cells = _cells(products, finding, limit, profile)
    return GasPath(phase, products, finding, cells, tuple(observations))


def _residual_dilution(place: PlaceState, limit: float) -> tuple[float, float]:
    """Return what dilution is still possible behind a place [fraction]: a lower and an upper end."""
    excess = place.dilution
    if place.state == "tight":
        return 0.0, min(excess.high, limit) if excess is not None else limit
    if place.state == "zero":
        return 0.0, limit
    if place.state == "close":
        return 0.0, excess.high if excess is not None else 2.0 * limit
    if place.state == "leak":
        return limit, max(excess.high, limit) if excess is not None else 1.0
    return 0.0, excess.high if excess is not None else 1.0


def _cells(products: Products | None, finding: LeakFinding, limit: float, profile: Profile) -> dict[str, CellState]:
    if products is None:
        return {}
    cells: dict[str, CellState] = {}
    for channel in dict.fromkeys(name for name, _ in products.names):
        at = _best_feed(products, channel)
        if at is None:
            continue
        place = finding.instrument if at == INSTRUMENT else finding.whole
        cells[channel] = _cell_state(products, channel, at, place, limit, profile.channels[channel].set_in_air)
    return cells


def _best_feed(products: Products, channel: str) -> str | None:
    feeds = products.feeds(channel)
    if INSTRUMENT in feeds:
        return INSTRUMENT
    return "tip" if "tip" in feeds else (feeds[0] if feeds else None)


def _cell_state(
    products: Products, channel: str, feed: str, place: PlaceState, limit: float, set_to: float | None
) -> CellState:
    """Take the possible dilution out of a product: gain (or O2 zero) with what the dilution leaves open."""
    product, u = products.value(channel, feed), products.u(channel, feed)
    low, high = _residual_dilution(place, limit)
    ends = (product / (1.0 - low), product / (1.0 - min(high, 0.99)))
    told = place.state in {"tight", "zero", "close"}
    middle = sum(ends) / 2.0
    spread = math.hypot(u, (ends[1] - ends[0]) / math.sqrt(12.0))
    bounds = (ends[0] - 2.0 * u, ends[1] + 2.0 * u)
    if set_to is not None:
        zero = set_to * (1.0 - middle)
        return CellState(channel, None, None, *bounds, zero if told else None, set_to * spread if told else None)
    zero_known = products.has(channel, ZERO)
    return CellState(
        channel,
        middle if told else None,
        spread if told else None,
        *bounds,
        products.value(channel, ZERO) if zero_known else None,
        products.u(channel, ZERO) if zero_known else None,
    )


def gas_path_json(path: GasPath, limit: float) -> dict[str, Any]:
    """Return the `gas_path` part of the judgement: products, dilution intervals and the leak [fractions].

    limit: largest share of room air [fraction]. Source: judgement format 1.
    """
    products, finding = path.products, path.finding
    body: dict[str, Any] = {"leak": finding.leak, "between": list(finding.between) if finding.between else None}
    if products is not None:
        for channel in dict.fromkeys(name for name, _ in products.names):
            key = f"p_{channel}"
            body[key] = {
                feed: {"value": products.value(channel, feed), "u": products.u(channel, feed)}
                for feed in products.feeds(channel)
            }
        body["agreement"] = {"chi_square": products.chi_square, "freedom": products.freedom}
    body["dilution"] = dilution_json(finding, products, limit)
    body["places"] = {
        name: {"state": place.state, "lr": place.ratio, "why": place.why}
        for name, place in (("probe", finding.probe), ("instrument", finding.instrument), ("whole", finding.whole))
    }
    body["evidence"] = [
        {"step": one.step, "kind": one.kind, "feed": one.feed, "lr": one.ratio, "text": one.text}
        for one in finding.evidence
    ]
    return body


def dilution_json(finding: LeakFinding, products: Products | None, limit: float) -> dict[str, Any]:
    """Return dilution of the whole path (`tip`), the probe assembly and the instrument with 95 % ends [fraction].

    Source: own derivation; a value stands only where it can be told.
    """
    body: dict[str, Any] = {}
    probe_low, probe_high = 0.0, 1.0
    if finding.probe.dilution is not None:
        own: Dilution = finding.probe.dilution
        body["probe"] = {"value": max(own.value, 0.0), "u": own.u, "low": own.low, "high": own.high}
        probe_low, probe_high = own.low, own.high
    low, high = _residual_dilution(finding.instrument, limit)
    if finding.instrument.state != "unknown":
        told = finding.instrument.state in {"tight", "zero"}
        excess = finding.instrument.dilution
        value = 0.0 if told else (excess.value if finding.instrument.state == "leak" and excess else None)
        body["instrument"] = {"value": value, "low": low, "high": high}
    else:
        low, high = 0.0, 1.0
    whole = excess_air(products, "tip") if products is not None else None
    if whole is not None or finding.probe.dilution is not None:
        total_low = 1.0 - (1.0 - probe_low) * (1.0 - low)
        total_high = 1.0 - (1.0 - probe_high) * (1.0 - high)
        total_high = min(total_high, whole.high if whole is not None else 1.0)
        value = None
        if finding.leak == "none":
            value = total_low
        elif finding.leak == "probe" and finding.probe.dilution is not None:
            value = finding.probe.dilution.value
        elif finding.leak in {"instrument", "unlocated"} and whole is not None:
            value = whole.value
        body["tip"] = {"value": value, "low": min(total_low, total_high), "high": total_high}
    return body


def cells_json(path: GasPath) -> dict[str, Any]:
    """Return the `cells` part of the judgement: gain [-] and zero [unit of the channel] per cell (format 1)."""
    body: dict[str, Any] = {}
    for name, cell in path.cells.items():
        entry: dict[str, Any] = {"zero": cell.zero, "u" if cell.channel == "o2" else "zero_u": cell.zero_u}
        if cell.gain is not None or cell.channel != "o2":
            entry |= {"gain": cell.gain, "u": cell.gain_u, "gain_low": cell.gain_low, "gain_high": cell.gain_high}
        body[name] = entry
    return body
