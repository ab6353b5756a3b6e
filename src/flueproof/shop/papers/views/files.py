"""The bytes of an issued paper, as they were kept."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_safe

from flueproof.shop.papers.at_work import paper_of, person_of
from flueproof.shop.records.issuing.listing import may_see_file
from flueproof.shop.records.issuing.making import MEDIA
from flueproof.shop.records.issuing.printing import may_fetch
from flueproof.shop.records.people.rights import requires


@require_safe
@requires("see-own-papers")
def file(request: HttpRequest, number: str, name: str) -> HttpResponse:
    """Serve one file; a sticker or tag only after its print was asked for, so that each print is kept."""
    paper, person = paper_of(request, number), person_of(request)
    row = paper.files.select_related("blob").filter(name=name).first()
    if row is None or not may_see_file(person, name):
        raise Http404
    if person.role != "owner" and not may_fetch(paper, name, person, timezone.now()):
        messages.info(request, "Print stickers and tags from here, so that each print is kept.")
        return redirect("papers:paper", paper.number)
    ending = name.rpartition(".")[2]
    answer = HttpResponse(bytes(row.blob.content), content_type=MEDIA[ending])
    how = "inline" if ending == "pdf" and "save" not in request.GET else "attachment"
    answer["Content-Disposition"] = f'{how}; filename="{paper.number}-{name}"'
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Cache-Control"] = "private, no-store"
    return answer
