"""The errors that a judged record shows: never typed in, always from what was measured on the bench."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from flueproof.analyzer.gas_path.products import Products
from flueproof.analyzer.profile import Profile
from flueproof.bench.bundle import EMPTY_BUNDLE, Bundle, bundle_from_dict
from flueproof.bench.judge.judge import examine_record
from flueproof.bench.judge.validity import clean_zero_co_ppm
from flueproof.bench.judgement import Judgement, PointJudgement
from flueproof.bench.record.record import Record
from flueproof.bench.verdict.situation import Situation
from flueproof.impact.errors import NothingFoundError
from flueproof.impact.found.field_errors import ChannelFinding, Display, FieldErrors
from flueproof.impact.found.gas_lines import gas_hypotheses
from flueproof.impact.found.lines import CO_ON_NO, CO_SLOPE, NO_SLOPE, O2_SLOPE, GasLines
from flueproof.impact.found.notes import notes_of
from flueproof.impact.found.products import field_products, outermost_feed
from flueproof.impact.found.sensors import temperature_errors, usable_points

GAS_CHANNELS = {"o2": O2_SLOPE, "co": CO_SLOPE, "no": NO_SLOPE}
LEAST_SLOPE = 0.1
"""A channel that shows less than this share of its gas is dead: nothing can be made of its readings; own choice."""


def errors_of_judgement(judgement: Judgement, record: Record, profile: Profile) -> FieldErrors:
    """Return the errors as found behind a judgement, with the same frozen bundle as it was judged by.

    Raises: NothingFoundError, RecordError, NoLimitError.
    """
    return errors_as_found(record, profile, bundle=bundle_from_dict(judgement.bundle))


def errors_as_found(
    record: Record, profile: Profile, *, bundle: Bundle = EMPTY_BUNDLE, phase: str = "as-found"
) -> FieldErrors:
    """Return what was wrong with the analyzer as found, as it acts on readings in the field.

    phase: `as-left` gives the state in which the analyzer went home, for use as the last good state of a later visit.
    Raises: NothingFoundError where the phase has no measurement; RecordError and NoLimitError as the judge.
    """
    examined = examine_record(record, profile, bundle=bundle)
    situation = examined.found if phase == "as-found" else examined.left
    if situation is None or (situation.path.products is None and not situation.points):
        raise NothingFoundError(
            f"job {record.job}: nothing was measured {phase.replace('-', ' ')}, so nothing can be said about earlier "
            "readings. Treat them as unproven and test again with a proven analyzer."
        )
    room_co = clean_zero_co_ppm(record, phase)
    products = field_products(situation.path.observations, profile, room_co)
    feed = outermost_feed(products) if products is not None else None
    leak = situation.path.finding.leak
    hypotheses = gas_hypotheses(products, profile, feed, leak, room_co, phase)
    stack, air, between = temperature_errors(
        usable_points(situation.points, "stack"), usable_points(situation.points, "air")
    )
    findings = _findings(situation, products, profile, hypotheses[0].lines)
    return FieldErrors(
        hypotheses=hypotheses,
        stack=stack,
        air=air,
        stack_air=between,
        untested_k={name: limit_u(profile, name, phase) for name in ("stack", "air")},
        displays=displays_of(profile),
        findings=findings,
        leak=leak,
        notes=notes_of(situation, findings, feed, room_co, hypotheses),
        o2_air_pct=air_pct(profile),
        profile={"name": profile.name, "version": profile.version},
    )


def air_pct(profile: Profile) -> float:
    """Return what the O2 channel is set to in air [% O2], 20.9 where it is not set."""
    channel = profile.channels.get("o2")
    return channel.set_in_air if channel is not None and channel.set_in_air is not None else 20.9


def limit_u(profile: Profile, name: str, phase: str) -> float:
    """Return the standard uncertainty of a temperature channel of which only its limit is known [K]."""
    channel = profile.channels.get(name)
    if channel is None:
        return 0.0
    at = min(200.0, channel.high) if name == "stack" else min(20.0, channel.high)
    return channel.limit_at(at, phase).value / math.sqrt(3.0)


def displays_of(profile: Profile) -> dict[str, Display]:
    """Return how single readings of each channel scatter, from the profile."""
    return {
        name: Display(
            channel.step, channel.repeatability.absolute, channel.repeatability.percent, clamp_low=channel.clamp_low
        )
        for name, channel in profile.channels.items()
        if name in {"o2", "co", "no", "stack", "air"}
    }


def _findings(
    situation: Situation, products: Products | None, profile: Profile, lines: GasLines
) -> Mapping[str, ChannelFinding]:
    return {name: _finding(name, situation, products, profile, lines) for name in ("o2", "co", "no", "stack", "air")}


def _finding(
    name: str, situation: Situation, products: Products | None, profile: Profile, lines: GasLines
) -> ChannelFinding:
    if name not in profile.channels:
        return ChannelFinding("not-tested", words="this model has no such channel")
    own = [point for point in situation.points if point.channel == name]
    title = profile.channels[name].title
    if own and all(_no_reading(point) for point in own):
        return ChannelFinding("absent", words=f"{title} gave no reading on the bench.")
    tested = _tested(own)
    if name in {"stack", "air"}:
        state = "measured" if usable_points(situation.points, name) else "not-tested"
        return ChannelFinding(state, *tested, words="" if state == "measured" else f"{title} was not tested.")
    if products is None or not any(one == name and what != "zero" for one, what in products.names):
        return ChannelFinding("not-tested", *tested, words=f"{title} was not tested on gas.")
    slope = lines.value(GAS_CHANNELS[name])
    if slope < max(LEAST_SLOPE, 3.0 * lines.u(GAS_CHANNELS[name])):
        return ChannelFinding("dead", *tested, words=f"{title} hardly answered to its gas.")
    words = ""
    if name == "co" and abs(lines.value(CO_ON_NO)) > 2.0 * lines.u(CO_ON_NO) > 0.0:
        words = f"{title} also shows about {100.0 * lines.value(CO_ON_NO):.0f} % of the NO in the gas."
    return ChannelFinding("measured", *tested, words=words)


def _no_reading(point: PointJudgement) -> bool:
    return not math.isfinite(point.settled)


def _tested(points: Sequence[PointJudgement]) -> tuple[float, float]:
    values = [point.reference for point in points if math.isfinite(point.settled)]
    return (min(values), max(values)) if values else (math.nan, math.nan)
