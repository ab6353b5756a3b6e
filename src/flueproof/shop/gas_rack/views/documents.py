"""Papers of a reference: keeping and showing them."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_GET, require_POST

from flueproof.shop.gas_rack.forms.documents import DocumentForm
from flueproof.shop.gas_rack.views.reference import reference_page
from flueproof.shop.records.gas.documents import keep_document
from flueproof.shop.records.models import Reference, ReferenceDocument
from flueproof.shop.records.people.rights import requires


@requires("change-gas")
@require_POST
def upload(request: HttpRequest, code: str) -> HttpResponse:
    """Keep a paper with its reference."""
    row = get_object_or_404(Reference, code=code)
    form = DocumentForm(request.POST, request.FILES)
    if not form.is_valid():
        return reference_page(request, row, document_form=form)
    file = form.cleaned_data["file"]
    keep_document(
        row, form.cleaned_data["title"], file.name, file.read(), file.content_type, request.user, timezone.now()
    )
    messages.success(request, "The paper is kept.")
    return redirect("gas_rack:reference", code=row.code)


@requires("see-jobs")
@require_GET
def document(request: HttpRequest, pk: int) -> HttpResponse:  # noqa: ARG001 -- Django passes it
    """Serve a paper as what it is, with nothing in it allowed to run."""
    row = get_object_or_404(ReferenceDocument.objects.select_related("blob"), pk=pk)
    answer = HttpResponse(bytes(row.blob.content), content_type=row.blob.media_type)
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Content-Disposition"] = content_disposition_header(as_attachment=False, filename=row.file_name) or "inline"
    answer["Cache-Control"] = "private, max-age=86400, immutable"
    return answer
