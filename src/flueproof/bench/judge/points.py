"""Test points judged: error, full budget, k, U, limit, guard band, statement and risk."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from flueproof.analyzer.profile import Channel, Profile
from flueproof.bench.bundle import Bundle
from flueproof.bench.judge.measured import Measured, ReferenceValue
from flueproof.bench.judgement import BudgetLine, PointJudgement
from flueproof.metrology.conformity import DecisionRule, statement_name
from flueproof.metrology.judging import judge_points
from flueproof.metrology.risk import global_risks
from flueproof.readings.settled import SettledValue

GAS_STEP_KINDS = {"test-gas", "swap-test"}


@dataclass(frozen=True, slots=True)
class PointGroup:
    """The applications of one reference to one channel at one place: one test point with its repeats."""

    members: tuple[Measured, ...]

    @property
    def first(self) -> Measured:
        """The earliest application (own rule)."""
        return self.members[0]


def point_groups(measured: Sequence[Measured]) -> list[PointGroup]:
    """Group readings into test points: same phase, channel, place and reference value; repeats are pooled.

    Source: own rule; a second look at one application is no repeat (bench record, readings).
    """
    groups: dict[tuple[object, ...], list[Measured]] = {}
    for one in measured:
        if one.reference is None:
            continue
        key = (
            one.phase,
            one.channel,
            one.kind,
            one.of,
            one.feed,
            one.pinched,
            one.probe,
            one.reference.identifier,
            round(one.reference.value, 6),
        )
        groups.setdefault(key, []).append(one)
    return [PointGroup(tuple(members)) for members in groups.values()]


def repeatability_of(channel: Channel, bundle: Bundle, reference: float) -> tuple[float, float]:
    """Return the scatter between applications and its degrees of freedom [unit of the channel, -].

    The bundle's pooled figure stands before the profile's.
    Source: the profile's own `source`; pooling: JCGM 100:2008, 4.2.4.
    """
    if channel.name in bundle.repeatability:
        return bundle.repeatability[channel.name]
    own = channel.repeatability
    return own.s_at(reference), own.dof


def _reference_lines(reference: ReferenceValue) -> list[BudgetLine]:
    name = "reference certificate" if reference.stated == "instrument" else "test gas certificate"
    if reference.implied:
        name = "test gas purity"
    lines = [BudgetLine(name, reference.u_certificate, _known(reference.dof), reference.kind, reference.shared)]
    if reference.u_source:
        lines.append(BudgetLine("spread of the source", reference.u_source, None, "normal", reference.shared))
    return lines


def _known(dof: float) -> float | None:
    return dof if math.isfinite(dof) else None


def budget_of(group: PointGroup, channel: Channel, bundle: Bundle) -> tuple[BudgetLine, ...]:
    """Return the budget of a point's error [unit of the channel]: reference, settling, noise, step, repeatability.

    Only what differs between applications shrinks with their number; the bottle and the display step do not.
    Source: JCGM 100:2008, 4 and F.2.2.1; repeats on one reference keep its share (5.2.2).
    """
    reference = group.first.reference
    assert reference is not None  # noqa: S101  (groups are made of readings with a reference)
    count = len(group.members)
    settled = [one.settled for one in group.members]
    scatter, dof = _with_own_repeats(settled, *repeatability_of(channel, bundle, reference.value))
    return (
        *_reference_lines(reference),
        BudgetLine("settling", _mean_square(one.u_settling for one in settled) / math.sqrt(count)),
        BudgetLine("noise", _mean_square(one.u_noise for one in settled) / math.sqrt(count)),
        BudgetLine("display step", _mean_square(_step_u(one, channel) for one in settled), None, "rectangular"),
        BudgetLine("repeatability", scatter / math.sqrt(count), _known(dof)),
    )


def _with_own_repeats(settled: Sequence[SettledValue], scatter: float, dof: float) -> tuple[float, float]:
    """Pool the scatter of this point's own repeats with the figure given, by degrees of freedom.

    A figure taken as exactly known stays as it is. Source: JCGM 100:2008, 4.2.4.
    """
    numbers = [one.value for one in settled if one.bound is None and math.isfinite(one.value)]
    own = len(numbers) - 1
    if own < 1 or not math.isfinite(dof):
        return scatter, dof
    mean = sum(numbers) / len(numbers)
    squares = sum((number - mean) ** 2 for number in numbers)
    return math.sqrt((dof * scatter**2 + squares) / (dof + own)), dof + own


def _mean_square(values: Iterable[float]) -> float:
    squares = [value**2 for value in values]
    return math.sqrt(sum(squares) / len(squares))


def _step_u(settled: SettledValue, channel: Channel) -> float:
    """Return what the display hides: half a step, also where it is clamped, or the width in which it snaps."""
    if settled.bound is None:
        return settled.u_step
    snap = channel.snap_width / math.sqrt(3.0) if settled.bound == "snapped" else 0.0
    return max(channel.step / math.sqrt(12.0), snap)


def _mean_shown(group: PointGroup, channel: Channel) -> float:
    """Return the mean of a group with a number in it [unit of the channel]; nan where bounds alone speak.

    An application that stood clamped or snapped beside one that did not counts with what it showed: the bound must
    not hide the number.
    """
    if all(one.number is None for one in group.members):
        return math.nan
    shown = [one.number if one.number is not None else edge_of(one, channel) for one in group.members]
    return math.nan if None in shown else sum(value for value in shown if value is not None) / len(shown)


def edge_of(one: Measured, channel: Channel) -> float | None:
    """Return what a display that stood clamped or snapped showed [unit of the channel]; None where it may be any."""
    edges = {"below": channel.clamp_low, "snapped": channel.snap_to}
    return edges.get(one.settled.bound or "")


def judged_point(group: PointGroup, profile: Profile, rule: DecisionRule, bundle: Bundle) -> PointJudgement:
    """Judge one test point.

    Returns: PointJudgement in the core unit of the channel.
    Raises: NoLimitError when the profile has no limit at the reference value.
    Source: JCGM 106:2012, 8; JCGM 100:2008, 5 and G.4.
    """
    first, reference = group.first, group.first.reference
    assert reference is not None  # noqa: S101
    channel = profile.channels[first.channel]
    limit = channel.limit_at(reference.value, first.phase)
    lines = budget_of(group, channel, bundle)
    settled = _mean_shown(group, channel)
    error = settled - reference.value
    judged = judge_points(
        np.array([0.0 if math.isnan(error) else error]),
        np.array([[line.u for line in lines]]),
        np.array([math.inf if line.dof is None else line.dof for line in lines]),
        np.array([limit.value]),
        rule,
    )
    statement: str = statement_name(int(judged.codes[0]))
    p_conform, risk = float(judged.p_conform[0]), float(judged.specific_risk[0])
    caveat = None
    shown = settled
    if rule.name == "simple" and _settling_leaves_open(group, error, limit.value, float(judged.k[0])):
        statement, risk = "undecided", 1.0 - p_conform
    if math.isnan(error):
        statement, p_conform, risk, caveat, shown = _judged_bound(group, channel, reference, limit.value)
    u, expanded = float(judged.u[0]), float(judged.expanded[0])
    return PointJudgement(
        step=first.step,
        phase=first.phase,
        feed=_feed_word(first),
        channel=first.channel,
        unit=first.unit,
        reference=reference.value,
        reference_id=reference.identifier,
        reference_u=math.hypot(reference.u_certificate, reference.u_source),
        settled=shown,
        settled_u=math.sqrt(sum(line.u**2 for line in lines if line.shared is None)),
        displayed_at_hold=first.displayed_at_hold,
        error=shown - reference.value,
        u=u,
        dof=_known(float(judged.dof[0])),
        k=float(judged.k[0]),
        U=expanded,
        limit=limit.value,
        limit_of=limit.of,
        limit_source=limit.source,
        guard=float(judged.guard[0]),
        statement=statement,
        p_conform=p_conform,
        risk=risk,
        tur=limit.value / expanded if expanded > 0 else math.inf,
        budget=lines,
        of=first.of,
        probe=first.probe,
        application=first.application,
        repeats=len(group.members),
        steps=tuple(one.step for one in group.members),
        caveat=caveat,
        global_risk=population_risk(limit.value, float(judged.guard[0]), u, bundle.share_in_limits),
        outside_alone=_outside_alone(group, channel, limit.value),
    )


def _settling_leaves_open(group: PointGroup, error: float, limit: float, k: float) -> bool:
    """Tell whether a reading had not settled, and where it goes decides: then nothing may call it either way.

    A guard band has the settling in its U; simple acceptance has nothing for a reading that is still on its way.
    """
    if math.isnan(error) or all(one.settled.settled for one in group.members):
        return False
    settling = _mean_square(one.settled.u_settling for one in group.members) / math.sqrt(len(group.members))
    return abs(abs(error) - limit) < k * settling


def _outside_alone(group: PointGroup, channel: Channel, limit: float) -> tuple[str, ...]:
    """Steps of several applications whose own reading lies outside the limit (OIML R 144-2, 1.2)."""
    if len(group.members) < 2:
        return ()
    shown = [(one, one.number if one.number is not None else edge_of(one, channel)) for one in group.members]
    return tuple(
        one.step
        for one, value in shown
        if value is not None and one.reference is not None and abs(value - one.reference.value) > limit
    )


def _feed_word(one: Measured) -> str | None:
    return f"{one.feed}-pinched" if one.pinched else one.feed


def _judged_bound(
    group: PointGroup, channel: Channel, reference: ReferenceValue, limit: float
) -> tuple[str, float, float, str, float]:
    """Judge a display that gave a bound: by what it shows, with a word on what that may hide.

    Above its range the display shows less than it means, so only a bound outside the limit decides.
    """
    bounded = next(one for one in group.members if one.number is None)
    bound, at = bounded.settled.bound, bounded.settled.value
    if bound == "absent" or bound is None:
        return "not-conform", 0.0, 0.0, "The display gave no reading.", math.nan
    if bound == "above":
        edge = channel.high if math.isnan(at) else at
        outside, words = edge - reference.value > limit, "The display was above its range: a lower bound."
        return ("not-conform", 0.0, 0.0, words, edge) if outside else ("undecided", 0.5, 0.5, words, edge)
    if bound == "below":
        edge, width = (channel.clamp_low or 0.0) if math.isnan(at) else at, 0.0
        words = "The display cannot go lower: a cell below zero would show the same."
    else:
        edge, width = channel.snap_to if channel.snap_to is not None else at, channel.snap_width
        words = "The display snaps to this value near air: anything near it would show the same."
    gap = abs(edge - reference.value)
    if gap - width > limit:
        return "not-conform", 0.0, 0.0, words, edge
    return ("conform", 1.0, 0.0, words, edge) if gap + width <= limit else ("undecided", 0.5, 0.5, words, edge)


def population_risk(limit: float, guard: float, u: float, share_in_limits: float | None) -> dict[str, float] | None:
    """Return false accepts and rejects over a population of which a share was found inside limits [0..1 each].

    limit, guard, u [unit of the channel]; share_in_limits: from earlier visits, None when not known. The population
    is taken as normal around zero error, as wide as the share says.
    Source: JCGM 106:2012, 9.5 and A.15 to A.17.
    """
    if share_in_limits is None or not 0.0 < share_in_limits < 1.0 or u <= 0.0:
        return None
    from scipy.special import ndtri  # noqa: PLC0415  (0.3 s of import, needed only with a population)

    prior_u = limit / float(ndtri(0.5 + 0.5 * share_in_limits))
    risks = global_risks(limit, guard, u, prior_u)
    return {"false_accept": float(risks[0]), "false_reject": float(risks[1])}
