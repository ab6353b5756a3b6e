"""The paper as it will print: a part of the page that loads by itself, and each picture."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_safe

from flueproof.papers.errors import PapersError
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.papers.at_work import paper_of, person_of, visit_of
from flueproof.shop.papers.preview import Preview, preview_of
from flueproof.shop.records.issuing.amending import UNSAID, draft_amendment
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.judged import judged


@require_safe
@requires("sign")
def pictures_to_sign(request: HttpRequest, number: str) -> HttpResponse:
    """Show all pictures of the paper that would be signed."""
    return _shown(request, "papers:sign-picture", number, *_to_sign(request, number))


@require_safe
@requires("sign")
def picture_to_sign(request: HttpRequest, number: str, name: str) -> HttpResponse:
    """Serve one picture of the paper that would be signed."""
    return _served(request, name, *_to_sign(request, number))


@require_safe
@requires("amend")
def pictures_to_amend(request: HttpRequest, number: str) -> HttpResponse:
    """Show all pictures of the amended paper."""
    return _shown(request, "papers:amend-picture", number, *_to_amend(request, number))


@require_safe
@requires("amend")
def picture_to_amend(request: HttpRequest, number: str, name: str) -> HttpResponse:
    """Serve one picture of the amended paper."""
    return _served(request, name, *_to_amend(request, number))


def _to_sign(request: HttpRequest, number: str) -> tuple[Preview | None, str]:
    _, visit = visit_of(number)
    if visit is None:
        raise Http404
    try:
        return preview_of(judged(visit), person_of(request), the_shop(), timezone.localdate()), ""
    except PapersError as trouble:
        return None, str(trouble)


def _to_amend(request: HttpRequest, number: str) -> tuple[Preview | None, str]:
    old = paper_of(request, number)
    stands = judged(old.visit)
    try:
        draft = draft_amendment(old, stands, UNSAID)
        return preview_of(stands, person_of(request), the_shop(), timezone.localdate(), draft), ""
    except PapersError as trouble:
        return None, str(trouble)


def _shown(request: HttpRequest, view: str, number: str, preview: Preview | None, trouble: str) -> HttpResponse:
    pictures = preview.pictures if preview is not None else ()
    pages = [picture for picture in pictures if picture.name.startswith("page-")]
    shown = [
        {
            "address": f"{reverse(view, args=(number, picture.name))}?of={preview.key}",
            "width": picture.width,
            "height": picture.height,
            "name": picture.name,
            "said": _said(picture.name, len(pages)),
        }
        for picture in pictures
        if preview is not None
    ]
    htmx = bool(getattr(request, "htmx", False))
    back = reverse(view.removesuffix("-picture"), args=(number,))
    context = {"pictures": shown, "trouble": trouble, "back": back}
    return render(request, "papers/pictures.html" if htmx else "papers/pictures_page.html", context)


def _said(name: str, pages: int) -> str:
    if name.startswith("page-"):
        return f"Page {name.removeprefix('page-')} of {pages}, as it will print"
    return {"sticker": "The sticker", "tag": "The do-not-use tag"}[name]


def _served(request: HttpRequest, name: str, preview: Preview | None, trouble: str) -> HttpResponse:
    picture = preview.named(name) if preview is not None else None
    if preview is None or picture is None or request.GET.get("of") != preview.key:
        raise Http404(trouble)
    answer = HttpResponse(picture.content, content_type="image/png")
    answer["Cache-Control"] = "private, max-age=900"
    patch_vary_headers(answer, ["Cookie"])
    return answer
