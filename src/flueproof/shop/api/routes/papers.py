"""Papers: list, one, its files."""

from __future__ import annotations

from typing import Annotated

from django.http import HttpRequest, HttpResponse
from ninja import Query, Router

from flueproof.shop.api.answers import answers, missing
from flueproof.shop.api.paging import Paging, page_of
from flueproof.shop.api.shapes.paper import PapersOut, PaperWithFiles, paper_out, paper_with_files
from flueproof.shop.api.token_door import BearerToken, person_on
from flueproof.shop.records.issuing.listing import papers_seen_by, with_neighbors
from flueproof.shop.records.models import Paper

router = Router(tags=["papers"])


@router.get("", response=answers(PapersOut), auth=BearerToken("see-own-papers"))
def list_papers(
    request: HttpRequest,
    paging: Paging,
    job: Annotated[str | None, Query(max_length=20)] = None,
    analyzer: Annotated[int | None, Query(ge=1, lt=2**63)] = None,
    owner: Annotated[int | None, Query(ge=1, lt=2**63)] = None,
) -> PapersOut:
    """List issued papers, the newest first."""
    rows = with_neighbors(papers_seen_by(person_on(request)).select_related("job"))
    filters = {"job__number": job, "job__analyzer_id": analyzer, "job__owner_id": owner}
    rows = rows.filter(**{name: value for name, value in filters.items() if value is not None})
    page, after = page_of(rows, paging, newest_first=True)
    return PapersOut(rows=[paper_out(row) for row in page], next=after)


@router.get("/{number}", response=answers(PaperWithFiles), auth=BearerToken("see-own-papers"))
def one_paper(request: HttpRequest, number: str) -> PaperWithFiles:
    """Return one paper with the list of its files."""
    return paper_with_files(_paper(request, number))


@router.get(
    "/{number}/files/{name}",
    response=answers(bytes),
    auth=BearerToken("see-own-papers"),
    openapi_extra={
        "responses": {
            200: {"content": {"application/octet-stream": {"schema": {"type": "string", "format": "binary"}}}}
        }
    },
)
def one_file(request: HttpRequest, number: str, name: str) -> HttpResponse:
    """Return the bytes of a file as they were issued; their SHA-256 stands in the paper."""
    file = _paper(request, number).files.select_related("blob").filter(name=name.replace("\0", "")).first()
    if file is None:
        raise missing("file", f"{name} of {number}")
    answer = HttpResponse(bytes(file.blob.content), content_type=file.blob.media_type)
    answer["Content-Disposition"] = f'attachment; filename="{number}-{file.name}"'
    return answer


def _paper(request: HttpRequest, number: str) -> Paper:
    rows = papers_seen_by(person_on(request)).select_related("job", "amends", "amended_by")
    row = rows.filter(number=number.replace("\0", "")).first()
    if row is None:
        raise missing("paper", number)
    return row
