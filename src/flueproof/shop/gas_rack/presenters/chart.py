"""The span-factor chart of a bottle on a control analyzer."""

from __future__ import annotations

from django.utils import timezone

from flueproof.pictures.course_picture import Band, CourseMark, course_picture
from flueproof.pictures.picture import Picture
from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.records.gas.course import CoursePoint, course_of, jumps_in, limits_of
from flueproof.shop.records.models import Analyzer
from flueproof.testgas.span.course import FEWEST, JUMP_U
from flueproof.testgas.span.factor import K, alike

MOST_POINTS = 40


def chart_of(analyzer: Analyzer, channel: str, title: str, reference: str) -> Picture | None:
    """Return the chart of one bottle and channel, other bottles' points hollow; None before its first point."""
    points = course_of(analyzer, channel)
    own = [one.factor.certificate for one in points if one.reference == reference]
    if not own:
        return None
    points = [one for one in points if alike(one.factor.certificate, own[-1])]
    limits = limits_of(points, reference)
    out = jumps_in(points, reference)
    marks = [_mark(one, reference, jumped=jumped) for one, jumped in zip(points, out, strict=True)][-MOST_POINTS:]
    band = Band(limits.center, limits.low, limits.high) if limits is not None else None
    rule = (
        f"Jump rule: out of line is a step of more than {JUMP_U:g} standard uncertainties from the last good point. "
        f"Bars: U of the reading (k = {K:g})."
    )
    if band is None:
        rule += f" The three-sigma band comes with the {FEWEST}th good point."
    return course_picture(f"{reference} on {analyzer.serial}: span factor of {title}", "", marks, band=band, rule=rule)


def _mark(point: CoursePoint, reference: str, *, jumped: bool) -> CourseMark:
    own = point.reference == reference
    day = timezone.localtime(point.at).date()
    expanded = K * point.factor.u_reading
    note = f"{point.reference}, when new" if point.from_new else point.reference
    return CourseMark(
        label=day_text(day, short=True).rsplit("\u00a0", 1)[0],
        value=point.factor.value,
        expanded=expanded,
        standing="other" if not own else "jump" if jumped else "good",
        value_text=f"{point.factor.value:.4f}",
        expanded_text=f"{expanded:.4f}",
        note=note,
    )
