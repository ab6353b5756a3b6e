"""The visits that a reference judged: as a page and as a table to take away."""

from __future__ import annotations

import csv

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_GET

from flueproof.shop.records.gas.withdrawing import JudgedVisit, judged_by
from flueproof.shop.records.models import Reference
from flueproof.shop.records.people.rights import requires

_HEAD = ("job", "state", "visit", "owner", "make", "model", "serial", "reference taken in", "papers")


@requires("see-jobs")
@require_GET
def visits(request: HttpRequest, code: str) -> HttpResponse:
    """List every visit, job and certificate that a reference judged."""
    row = get_object_or_404(Reference, code=code)
    return render(request, "gas_rack/judged.html", {"reference": row, "visits": judged_by(row)})


@requires("see-jobs")
@require_GET
def as_csv(request: HttpRequest, code: str) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Return the list as CSV."""
    row = get_object_or_404(Reference, code=code)
    answer = HttpResponse(content_type="text/csv; charset=utf-8")
    name = f"judged-by-{row.code}.csv"
    answer["Content-Disposition"] = content_disposition_header(as_attachment=True, filename=name) or "attachment"
    writer = csv.writer(answer)
    writer.writerow(_HEAD)
    writer.writerows(_cells(one) for one in judged_by(row))
    return answer


def _cells(one: JudgedVisit) -> list[str]:
    analyzer = one.job.analyzer
    cells = [
        one.job.number,
        one.job.get_state_display(),
        str(one.visit.number),
        one.job.owner.name,
        analyzer.make,
        analyzer.model,
        analyzer.serial,
        timezone.localtime(one.at).isoformat(timespec="minutes"),
        " ".join(paper.number for paper in one.papers),
    ]
    return [_as_text(cell) for cell in cells]


def _as_text(cell: str) -> str:
    """Keep a spreadsheet from taking a name for a formula."""
    return f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell
