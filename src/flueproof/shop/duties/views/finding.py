"""The page of a reference found wrong: its visits judged again, before and after, and the list to take away."""

from __future__ import annotations

import csv
from collections.abc import Iterator

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.duties.at_work import finding_named
from flueproof.shop.duties.presenters.finding_page import finding_context, points_of, progress_context, visit_words
from flueproof.shop.records.models import RecomputedVisit, ReferenceFinding
from flueproof.shop.records.people.rights import requires

_HEAD = (
    "job", "owner", "make", "model", "serial", "what became of it", "phase", "channel", "reference before",
    "reference after", "error before", "error after", "limit", "statement before", "statement after",
)  # fmt: skip


@requires("see-duties")
@require_safe
def finding_page(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what changed, those first who may be in danger."""
    return render(request, "duties/finding.html", finding_context(finding_named(pk), request.GET, timezone.now()))


@requires("see-duties")
@require_safe
def progress(request: HttpRequest, pk: int) -> HttpResponse:
    """Return the bar of progress; when all is done it tells the page to load anew."""
    context = progress_context(finding_named(pk))
    answer = render(request, "duties/progress.html", context)
    if context["progress"].finished and request.headers.get("HX-Request"):
        answer["HX-Refresh"] = "true"
    return answer


@requires("see-duties")
@require_safe
def one_visit(request: HttpRequest, pk: int, visit: int) -> HttpResponse:
    """Show one visit before and after, point by point; it prints on one sheet."""
    rows = RecomputedVisit.objects.select_related("visit__job__owner", "visit__job__analyzer", "finding__reference")
    row = get_object_or_404(rows, finding_id=pk, visit_id=visit)
    context = {
        "row": row,
        "finding": row.finding,
        "job": row.visit.job,
        "points": points_of(row),
        "state": visit_words(row),
        "papers": row.visit.papers.defer("record", "judgement").order_by("-id"),
        "duty": row.finding.duties.filter(visit=row.visit).first(),
        "rule": ONE_RULE,
    }
    return render(request, "duties/visit.html", context)


@requires("see-duties")
@require_safe
def as_csv(request: HttpRequest, pk: int) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Return every point before and after as CSV; a visit without points is one line."""
    finding = finding_named(pk)
    answer = HttpResponse(content_type="text/csv; charset=utf-8")
    name = f"judged-again-{finding.reference.code}.csv"
    answer["Content-Disposition"] = content_disposition_header(as_attachment=True, filename=name) or "attachment"
    writer = csv.writer(answer)
    writer.writerow(_HEAD)
    for cells in _lines(finding):
        writer.writerow(cells)
    writer.writerow([ONE_RULE])
    return answer


def _lines(finding: ReferenceFinding) -> Iterator[list[str]]:
    rows = finding.visits.select_related("visit__job__owner", "visit__job__analyzer").order_by("-danger", "-changed")
    for row in rows:
        job = row.visit.job
        unit = job.analyzer
        said = (job.number, job.owner.name, unit.make, unit.model, unit.serial, visit_words(row))
        head = [_as_text(cell) for cell in said]
        points = points_of(row)
        if not points:
            yield head
        for point in points:
            yield [
                *head, point.phase, point.channel, point.reference_before, point.reference_after, point.error_before,
                point.error_after, point.limit, point.before, point.after,
            ]  # fmt: skip


def _as_text(cell: str) -> str:
    """Keep a spreadsheet from taking what others wrote for a formula."""
    return f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell
