"""The steps of a draft: each is saved before the next one shows, and two tabs lose nothing of each other."""

from __future__ import annotations

from typing import Any, Final

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from flueproof.papers.box_slip.packing_list import caution_words
from flueproof.shop.frame.door.throttle import throttled
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.intake.asking.drafts import (
    RequestRefusedError,
    add_analyzer,
    came_to,
    missing_in,
    take_off,
)
from flueproof.shop.records.intake.asking.sameness import all_the_same, same_for_all
from flueproof.shop.records.keeping.versioned_form import VersionedModelForm
from flueproof.shop.records.models import AnswerLink, RequestedAnalyzer, ServiceRequest
from flueproof.shop.records.people.rights import public
from flueproof.shop.requests.forms.steps import (
    AnalyzerForm,
    NeededForm,
    PackedForm,
    ReturnForm,
    WantedForm,
    WhoForm,
    WrongForm,
)
from flueproof.shop.requests.forms.together import all_valid, saved_together
from flueproof.shop.requests.presenters.packing import packing_choices
from flueproof.shop.requests.presenters.path import STEPS, after, before, name_of, number_of, path_of
from flueproof.shop.requests.presenters.summary import said_of, title_of, who_facts
from flueproof.shop.requests.views.opening import by_secret, open_shop, request_of

_OF_REQUEST: Final[dict[str, type[VersionedModelForm]]] = {"who": WhoForm, "wanted": NeededForm, "box": ReturnForm}
_OF_ANALYZER: Final[dict[str, type[VersionedModelForm]]] = {
    "analyzers": AnalyzerForm,
    "wrong": WrongForm,
    "wanted": WantedForm,
    "box": PackedForm,
}


@public
@open_shop
@throttled("service-request-step", 240, 60)
@require_http_methods(["GET", "HEAD", "POST"])
@by_secret(["resume"])
def step(request: HttpRequest, secret: str, link: AnswerLink, _state: str, name: str) -> HttpResponse:
    """Show and save one step of a draft."""
    if name not in STEPS:
        raise Http404
    row = request_of(link)
    if row.state != "draft":
        return redirect("requests:sent", secret)
    if name == "check":
        came_to(row, number_of("check"), None)
        return _check(request, secret, request_of(link))
    data = request.POST if request.method == "POST" else None
    own, units = _forms(row, name, data)
    if data is None:
        return _page(request, secret, row, name, own, units)
    try:
        answer = _acted(request, secret, row, name, own, units)
    except RequestRefusedError as refused:
        messages.error(request, f"{refused}.")
        return redirect("requests:step", secret, name)
    return answer or _page(request, secret, row, name, own, units, status=422)


def _acted(
    request: HttpRequest,
    secret: str,
    row: ServiceRequest,
    name: str,
    own: VersionedModelForm | None,
    units: list[VersionedModelForm],
) -> HttpResponse | None:
    """Save what was typed and do what was pressed; None when something is wrong or was changed by another tab."""
    act = request.POST.get("act", "")
    off = [unit for unit in units if act == f"off-{unit.instance.pk}"]
    bound = [unit for unit in units if unit.is_bound and unit not in off]
    same = name == "wanted" and "same" in request.POST and len(units) > 1
    if same:
        bound = bound[:1]
    forms = [*([own] if own is not None else []), *bound]
    if not all_valid(forms) or not saved_together(row, forms, None):
        return None
    if same and bound:
        same_for_all(bound[0].instance, None)
    for unit in off:
        take_off(unit.instance, None)
    if act == "add":
        made = add_analyzer(row, {}, None)
        return redirect(reverse("requests:step", args=[secret, name]) + f"#analyzer-{made.pk}")
    if off or act == "stay":
        return redirect("requests:step", secret, name)
    onward = after(name)
    came_to(row, number_of(onward), None)
    return redirect("requests:step", secret, onward)


def _forms(row: ServiceRequest, name: str, data: Any) -> tuple[VersionedModelForm | None, list[VersionedModelForm]]:
    """Return the forms of a step; an analyzer that another tab added meanwhile is shown, not read from the post."""
    own = _OF_REQUEST[name](data, instance=row) if name in _OF_REQUEST else None
    kind = _OF_ANALYZER.get(name)
    units = [_unit(kind, one, data) for one in row.analyzers.order_by("id")] if kind else []
    return own, units


def _unit(kind: type[VersionedModelForm], one: RequestedAnalyzer, data: Any) -> VersionedModelForm:
    prefix = f"a{one.pk}"
    there = data is not None and f"{prefix}-seen_version" in data
    return kind(data if there else None, instance=one, prefix=prefix)


def _page(
    request: HttpRequest,
    secret: str,
    row: ServiceRequest,
    name: str,
    own: VersionedModelForm | None,
    units: list[VersionedModelForm],
    status: int = 200,
) -> HttpResponse:
    changed = [form for form in (own, *units) if form is not None and form.conflict is not None]
    rows = [(form, title_of(form.instance), packing_choices(form) if name == "box" else []) for form in units]
    context = {
        "request_row": row,
        "secret": secret,
        "name": name,
        "title": STEPS[name],
        "path": path_of(row, secret, name),
        "own": own,
        "units": rows,
        "back": before(name),
        "changed": changed,
        "several": len(units) > 1,
        "same": "same" in request.POST if status == 422 else all_the_same(row),
        "currency": the_shop().currency,
        "batteries": caution_words("batteries"),
    }
    return render(request, f"requests/step_{name}.html", context, status=status)


def _check(request: HttpRequest, secret: str, row: ServiceRequest) -> HttpResponse:
    missing = [(name_of(one.step), one.words) for one in missing_in(row)]
    context = {
        "request_row": row,
        "secret": secret,
        "name": "check",
        "title": STEPS["check"],
        "path": path_of(row, secret, "check"),
        "who": who_facts(row),
        "analyzers": said_of(row, the_shop().currency),
        "missing": missing,
        "back": before("check"),
    }
    return render(request, "requests/check.html", context)
