"""The course of span factors on a control analyzer, from the morning checks and the checks of new bottles."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from flueproof.shop.records.gas.control import ControlLine
from flueproof.shop.records.models import Analyzer, MorningCheck, SpanCheck
from flueproof.testgas.span.course import ControlLimits, Jump, control_limits, jump, moving_sigma
from flueproof.testgas.span.factor import SpanFactor, alike

MOST_CHECKS: Final = 90
_FOR_LIMITS: Final = 20  # the limits rest on the last twenty points that were in line


@dataclass(frozen=True, slots=True)
class CoursePoint:
    """One span factor of the past.

    from_new: read when the bottle was new, beside the old one; begins: the control analyzer was adjusted or repaired
    just before, so nothing earlier says anything about this point.
    """

    at: datetime
    reference: str
    factor: SpanFactor
    passed: bool
    from_new: bool
    begins: bool = False


def course_of(analyzer: Analyzer, channel: str, *, before: datetime | None = None) -> list[CoursePoint]:
    """Return the span factors of a channel in the order of time, at most the last 90 checks of each kind."""
    mornings = MorningCheck.objects.filter(analyzer=analyzer)
    checks = SpanCheck.objects.filter(analyzer=analyzer, channel=channel)
    if before is not None:
        mornings, checks = mornings.filter(at__lt=before), checks.filter(at__lt=before)
    points = [
        point
        for check in mornings.order_by("-id")[:MOST_CHECKS]
        for line in check.lines
        if line["channel"] == channel and (point := _of_line(check.at, line, bool(line["passed"]))) is not None
    ]
    for row in checks.select_related("reference").order_by("-id")[:MOST_CHECKS]:
        new = row.detail.get("new", {})
        if (point := _of_line(row.at, new, row.passed, from_new=True)) is not None:
            points.append(point)
    return sorted(points, key=lambda one: one.at)


def _of_line(at: datetime, line: dict[str, Any], passed: bool, *, from_new: bool = False) -> CoursePoint | None:  # noqa: FBT001 -- private
    if line.get("span_factor") is None:
        return None
    factor = SpanFactor(
        line["span_factor"], line["u_certificate"], line["u_reading"], line["reference_value"], line["cause"]
    )
    return CoursePoint(at, line["reference"], factor, passed, from_new, bool(line.get("begins")))


def limits_of(points: list[CoursePoint], reference: str) -> ControlLimits | None:
    """Return the control limits of one bottle's factors that were in line, None for fewer than eight or no scatter."""
    found = control_limits(_in_line(since_begun(points), reference))
    return found if found is not None and found.sigma > 0.0 else None


def since_begun(points: list[CoursePoint]) -> list[CoursePoint]:
    """Return the points since the control analyzer was last adjusted or repaired, all of them when it never was."""
    starts = [place for place, one in enumerate(points) if one.begins]
    return [one for one in points if one.at >= points[starts[-1]].at] if starts else points


def _in_line(points: list[CoursePoint], reference: str) -> list[float]:
    return [one.factor.value for one in points if one.reference == reference and one.passed][-_FOR_LIMITS:]


def jump_of(line: ControlLine, points: list[CoursePoint]) -> Jump | None:
    """Return how a line stands against the last good point of its bottle, else of the channel; None for the first."""
    factor = line.factor()
    points = since_begun(points)
    good = [one for one in points if one.passed]
    same = [one for one in good if one.reference == line.reference]
    if factor is None:
        return None
    last = same[-1:] or [one for one in good if alike(one.factor.certificate, factor.certificate)][-1:]
    if not last:
        return None
    values = _in_line(points, last[0].reference)
    scatter = moving_sigma(values) if control_limits(values) is not None else 0.0
    return jump(last[0].factor, factor, scatter)


def jumps_in(points: list[CoursePoint], reference: str) -> list[bool]:
    """Return for each point whether it is out of line: a bottle's own point that failed, or jumped from the one before.

    Points of other bottles are never marked here.
    """
    marked, before, values = [], None, list[float]()
    for one in points:
        if one.reference != reference:
            marked.append(False)
            continue
        if one.begins:
            before, values = None, []
        scatter = moving_sigma(values[-_FOR_LIMITS:]) if control_limits(values) is not None else 0.0
        out = before is not None and jump(before, one.factor, scatter).is_jump
        marked.append(out or not one.passed)
        if one.passed and not out:
            before = one.factor
            values.append(one.factor.value)
    return marked
