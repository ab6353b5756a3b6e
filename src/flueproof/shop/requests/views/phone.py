"""A request on the phone: one page, owner looked up while typing, confirmed at once."""

from __future__ import annotations

import uuid
from typing import Any, Final, cast

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.papers.box_slip.packing_list import caution_words
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.intake.asking.drafts import MOST_ANALYZERS, add_analyzer, begin_draft
from flueproof.shop.records.intake.asking.letters import tell_received
from flueproof.shop.records.intake.asking.on_file import owner_now
from flueproof.shop.records.intake.requests import confirm_request, jobs_of
from flueproof.shop.records.models import Analyzer, Owner, Person, RequestedAnalyzer, ServiceRequest
from flueproof.shop.records.people.rights import requires
from flueproof.shop.requests.forms.phone import PhoneForm, PhoneUnit
from flueproof.shop.requests.presenters.owners import callers, known_of
from flueproof.shop.requests.presenters.packing import packing_choices

_LONGEST: Final = 80
_TAKEN: Final = "requests-taken-by-page"


@requires("change-jobs")
@require_http_methods(["GET", "HEAD", "POST"])
def phone(request: HttpRequest) -> HttpResponse:
    """Take a request while the caller speaks; what is on file becomes jobs with the same press."""
    if request.headers.get("HX-Request"):
        return render(request, "requests/phone_found.html", _found(request.GET.get("q", "")))
    owner, analyzer = _chosen(request)
    count = _count(request)
    if request.method != "POST" or {"choose", "more", "fewer"} & request.POST.keys():
        form, units = _unbound(request, owner, analyzer, count)
        return _page(request, form, units, owner)
    form = PhoneForm(request.POST)
    units = [PhoneUnit(request.POST, instance=RequestedAnalyzer(), prefix=f"u{n}") for n in range(count)]
    good = [one.is_valid() for one in (form, *units)]
    if not all(good):
        _first_wrong(form, units)
        return _page(request, form, units, owner, status=422)
    row = _taken(request, form, units, owner)
    return redirect("requests:request", row.code)


def _first_wrong(form: PhoneForm, units: list[PhoneUnit]) -> None:
    """Put the focus into the first field that is wrong."""
    wrong = [bound for one in (form, *units) for bound in one.visible_fields() if bound.errors]
    if wrong:
        wrong[0].field.widget.attrs["autofocus"] = True


def _taken(request: HttpRequest, form: PhoneForm, units: list[PhoneUnit], owner: Owner | None) -> ServiceRequest:
    """Keep the request, confirmed; a second press on the same page finds the first one's."""
    page, by, now = request.POST.get("page", "")[:40], cast("Person", request.user), timezone.now()
    taken = request.session.get(_TAKEN, {})
    standing: ServiceRequest | None = ServiceRequest.objects.filter(pk=taken.get(page)).first()
    if standing is not None:
        return standing
    with transaction.atomic():
        row = begin_draft({**form.said(), "owner": owner}, "phone", by, now, empty=True)
        for unit in units:
            add_analyzer(row, unit.said(), by)
        done = confirm_request(row, now, by)
        became = jobs_of(done, owner, by, now)
    tell_received(done, now, by)
    request.session[_TAKEN] = {page: row.pk}
    messages.success(request, f"Request {row.code} is taken. Tell the caller the code of the slip.")
    for one in became:
        messages.info(request, f"{one.requested} {one.words}.")
    return done


def _unbound(
    request: HttpRequest, owner: Owner | None, analyzer: Analyzer | None, count: int
) -> tuple[PhoneForm, list[PhoneUnit]]:
    """Return the forms as typed so far, with what is on file of whom was chosen."""
    typed = request.POST
    said: dict[str, Any] = {name: typed[name] for name in PhoneForm.base_fields if name in typed}
    if owner is not None and "choose" in typed:
        said |= {name: value for name, value in known_of(owner).items() if value}
    first = {"make": analyzer.make, "model": analyzer.model, "serial": analyzer.serial} if analyzer else {}
    units = []
    for number in range(count):
        prefix = f"u{number}"
        initial = _unit_typed(typed, prefix) | (first if number == 0 else {})
        if owner is not None and f"{prefix}-decision_rule" not in typed:
            initial.setdefault("decision_rule", owner.decision_rule)
        units.append(PhoneUnit(instance=RequestedAnalyzer(), prefix=prefix, initial=initial))
    form = PhoneForm(initial=said)
    _work_begins(units, owner, analyzer, more="more" in typed)
    return form, units


def _work_begins(units: list[PhoneUnit], owner: Owner | None, analyzer: Analyzer | None, *, more: bool) -> None:
    """Put the focus where the caller's next words belong."""
    if analyzer is not None:
        units[0].fields["complaint"].widget.attrs["autofocus"] = True
    elif more:
        units[-1].fields["serial"].widget.attrs["autofocus"] = True
    elif owner is not None:
        units[0].fields["serial"].widget.attrs["autofocus"] = True


def _unit_typed(typed: Any, prefix: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if f"{prefix}-service" not in typed:
        return found
    for name, field in PhoneUnit.base_fields.items():
        key = f"{prefix}-{name}"
        many = hasattr(field, "choices") and field.widget.__class__.__name__ == "CheckboxSelectMultiple"
        found[name] = typed.getlist(key) if many else typed.get(key, "")
    return found


def _page(
    request: HttpRequest, form: PhoneForm, units: list[PhoneUnit], owner: Owner | None, status: int = 200
) -> HttpResponse:
    fleet = owner.analyzers.order_by("serial")[:40] if owner else []
    context = {
        "form": form,
        "units": [(unit, "", packing_choices(unit)) for unit in units],
        "count": len(units),
        "more": len(units) < MOST_ANALYZERS,
        "owner": owner,
        "fleet": fleet,
        "page_id": request.POST.get("page") or uuid.uuid4().hex,
        "currency": the_shop().currency,
        "batteries": caution_words("batteries"),
        **_found(request.POST.get("q") or request.GET.get("q", "")),
    }
    return render(request, "requests/phone.html", context, status=status)


def _found(text: str) -> dict[str, Any]:
    typed = text.strip()[:_LONGEST]
    return {"typed": typed, "found": callers(typed) if typed else []}


def _chosen(request: HttpRequest) -> tuple[Owner | None, Analyzer | None]:
    """Return whom the counter chose: an owner, or an analyzer with its owner."""
    kind, _, key = request.POST.get("choose", "").partition("-")
    if kind == "nobody":
        return None, None
    number = int(key) if key.isdecimal() else 0
    if kind == "analyzer":
        analyzer = Analyzer.objects.select_related("owner__merged_into").filter(pk=number).first()
        return (owner_now(analyzer.owner), analyzer) if analyzer else (None, None)
    given = key if kind == "owner" else (request.POST.get("owner") or request.GET.get("owner", ""))
    owner = Owner.objects.select_related("merged_into").filter(pk=int(given) if given.isdecimal() else 0).first()
    return (owner_now(owner) if owner else None), None


def _count(request: HttpRequest) -> int:
    text = request.POST.get("count", "1")
    count = int(text) if text.isdecimal() else 1
    return min(max(count + ("more" in request.POST) - ("fewer" in request.POST), 1), MOST_ANALYZERS)
