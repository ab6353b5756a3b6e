"""What the owner must not miss, in words: how the analyzer was found, and what that means for work already done."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Final

from flueproof.papers.content import statements
from flueproof.papers.content.checks import LEAKS, check_name
from flueproof.papers.content.display import display_of, name_of, rounded, to_places
from flueproof.papers.content.outcome import CO_CHANNELS
from flueproof.papers.content.results import channel_title
from flueproof.papers.content.wording import on_paper

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import Judgement, PointJudgement

HARDLY: Final = 0.05  # of the reference: less than this is no answer
_BAD_LEAKS: Final = frozenset({"probe", "instrument", "unlocated"})
_PATH_KINDS: Final = frozenset({"plug-test", "bulb-test", "vacuum-hold", "swap-test", "pinched", "leak"})
_MOST_CHECKS: Final = 2


def found_in_words(
    judgement: Judgement, profile: Profile, units: str, named: Mapping[str, str] | None = None
) -> dict[str, Any] | None:
    """Return how the unit was found where that was not inside limits: a head, one sentence a fault, what it means.

    None where all points as found conform and no check failed. Values in the units [degC/degF, Pa/inH2O] asked for.
    Source: own rule; ISO/IEC 17025:2017, 7.8.4.1 d (results before adjustment), second-hand.
    """
    found = [point for point in judgement.points if point.phase == "as-found" and point.counts]
    if not found:
        said = statements.NOT_FOUND if judgement.as_left is not None else ""
        return {"head": "As found: not measured.", "lines": [], "meaning": said} if said else None
    outside = _worst(point for point in found if point.statement == "not-conform")
    close = _worst(point for point in found if point.statement == "undecided")
    leak = str(judgement.gas_path.get("leak") or "") if judgement.as_found is not None else ""
    lines = [LEAKS[leak]] if leak in _BAD_LEAKS else []
    lines += [point_in_words(point, profile, units) for point in outside]
    lines += _failed_checks(judgement, units, named)
    faulty = bool(lines)
    lines += [point_in_words(point, profile, units) for point in close if not _same(point, outside)]
    if not lines:
        return None
    gases = leak in _BAD_LEAKS or any(point.channel in CO_CHANNELS | {"o2", "co2"} for point in outside)
    meaning = statements.LOOK_BACK + (statements.LOOK_BACK_CO if gases else "") if faulty else ""
    return {"head": "As found: outside limits." if outside else "As found: not in order." if faulty
            else "As found: too close to call.", "lines": lines, "meaning": meaning}  # fmt: skip


def point_in_words(point: PointJudgement, profile: Profile, units: str) -> str:
    """Return one point outside or near its limit as a sentence: "CO read 15 % low: 425.1 ppm on gas with ...".

    Source: common practice, no source.
    """
    display = display_of(point.unit, units)
    title, sign = channel_title(point.channel, profile), display.sign
    expanded = rounded(0.0, display.difference(point.U))[1]
    on = "on gas with" if point.feed is not None else "at"
    reference = f"{to_places(display.value(point.reference), expanded)} {sign}"
    if not math.isfinite(point.settled):
        return f"{title} gave no reading {on} {reference}."
    reading = f"{to_places(display.value(point.settled), expanded)} {sign}"
    limit = f"limit \u00b1{to_places(display.difference(point.limit), expanded)} {sign}"
    side = "low" if point.settled < point.reference else "high"
    if point.statement == "undecided":
        return f"{title} read {reading} {on} {reference}: too close to its {limit} to call."
    if point.unit == "ppm" and point.reference > 0:
        if point.settled <= HARDLY * point.reference:
            return f"{title} hardly answered: {reading} {on} {reference}; {limit}."
        share = abs(point.settled - point.reference) / point.reference * 100.0
        return f"{title} read {share:.0f} % {side}: {reading} {on} {reference}; {limit}."
    return f"{title} read too {side}: {reading} {on} {reference}; {limit}."


def joint_words(judgement: Judgement) -> list[str]:
    """Return how sure "all points conform" is, and the risks over all units where earlier visits make them known.

    Nothing where a point does not conform: the table says it. Probabilities [-] print in per cent.
    Source: JCGM 106:2012, 7 and 9.5.
    """
    phase = "as-left" if judgement.as_left is not None else "as-found"
    points = [point for point in judgement.points if point.phase == phase and point.counts]
    if not points or any(point.statement == "not-conform" for point in points):
        return []
    said = []
    joint = judgement.joint.get(phase) or {}
    probability = joint.get("p_all_conform")
    if isinstance(probability, (int, float)) and math.isfinite(probability):
        count = int(joint.get("points", len(points)))
        which = "The point" if count == 1 else f"All {count} points together"
        verb = "lies inside its limit" if count == 1 else "lie inside their limits"
        phrase = phase.replace("-", " ")
        said.append(f"{which}, {phrase}, {verb} with a probability of {share(probability)}{statements.JOINT_BASIS}")
    risks = [point.global_risk for point in points if point.global_risk]
    if risks:
        accept = max(risk["false_accept"] for risk in risks)
        reject = max(risk["false_reject"] for risk in risks)
        said.append(statements.POPULATION.format(accept=share(accept), reject=share(reject)))
    return said


def share(probability: float) -> str:
    """Return a probability [-] in per cent, never as a certainty: "99.8 %", "more than 99.9 %".

    Source: common practice, no source.
    """
    if probability > 0.999:
        return "more than 99.9 %"
    return "less than 0.1 %" if probability < 0.001 else f"{100.0 * probability:.1f} %"


def _worst(points: Any) -> list[PointJudgement]:
    """Return the worst point of each channel, in order of the channels."""
    worst: dict[str, PointJudgement] = {}
    for point in points:
        if point.channel not in worst or _excess(point) > _excess(worst[point.channel]):
            worst[point.channel] = point
    return list(worst.values())


def _excess(point: PointJudgement) -> float:
    if not math.isfinite(point.error):
        return math.inf
    return abs(point.error) / point.limit if point.limit > 0 else 0.0


def _same(point: PointJudgement, others: Sequence[PointJudgement]) -> bool:
    return any(other.channel == point.channel for other in others)


def _failed_checks(judgement: Judgement, units: str, named: Mapping[str, str] | None) -> list[str]:
    failed = [
        check
        for check in judgement.checks
        if check.phase == "as-found" and check.ok is False and check.kind not in _PATH_KINDS
    ]
    first = {(check.kind, check.channel): check for check in reversed(failed)}
    lines = []
    for check in reversed(first.values()):
        said = on_paper(check.text, units, named)
        known = bool(check.channel) and said.startswith(name_of(str(check.channel)))
        lines.append(said if known else f"{check_name(check)}: {said}")
    return lines[:_MOST_CHECKS]
