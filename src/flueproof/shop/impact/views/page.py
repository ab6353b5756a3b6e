"""The page of an analyzer: what was found, one value at a time, and the owner's field log."""

from __future__ import annotations

from typing import Any, Final

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.impact.errors import FieldReadingError
from flueproof.impact.statements.limits import offered_limits
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.frame.presenters.amounts import temperature_unit
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.impact.at_work import Case, case_of, person_of, visit_named
from flueproof.shop.impact.forms.keep import KeepForm
from flueproof.shop.impact.forms.limits import chosen_limits, quantity_choices
from flueproof.shop.impact.forms.log import LogForm
from flueproof.shop.impact.forms.numbers import SIGNS
from flueproof.shop.impact.forms.value import ValueForm
from flueproof.shop.impact.letter import duty_behind
from flueproof.shop.impact.presenters.found import channels_found
from flueproof.shop.impact.presenters.results import worked
from flueproof.shop.impact.presenters.value import one_value
from flueproof.shop.impact.working import FUTURE, SentLog, sent_log, worked_through
from flueproof.shop.records.field_logs.keeping import LogContent
from flueproof.shop.records.field_logs.seeing import logs_seen_by, may_keep
from flueproof.shop.records.fuels.finding import usable_fuels
from flueproof.shop.records.people.rights import requires

WRONG: Final = 422


@requires("see-own-papers")
@require_safe
def analyzer(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what was found and, by its address, one value corrected; by htmx only the value."""
    case = case_of(request, pk, request.GET)
    context = value_context(request, case)
    if request.htmx:  # type: ignore[attr-defined] # middleware
        return render(request, "impact/value.html", context, status=WRONG if context["value_form"].errors else 200)
    context |= page_context(request, case)
    return render(request, "impact/page.html", context)


@requires("see-own-papers")
@require_safe
def visit(request: HttpRequest, pk: int) -> HttpResponse:
    """Go to the page of the visit's analyzer with this visit chosen."""
    row = visit_named(request, pk)
    return redirect(f"{reverse('impact:analyzer', args=[row.job.analyzer_id])}?visit={row.pk}")


@requires("see-own-papers")
@require_POST
def log(request: HttpRequest, pk: int) -> HttpResponse:
    """Work a field log through and show it; nothing of it is kept."""
    case = case_of(request, pk, request.POST)
    return log_page(request, case, sent_log(request, case))


def log_page(request: HttpRequest, case: Case, sent: SentLog, keep: KeepForm | None = None) -> HttpResponse:
    """Return the page with a log as it was sent, and its result or what is in the way."""
    fine = sent.result is not None and (keep is None or not keep.errors)
    context = page_context(request, case, sent) | {"keep": keep or KeepForm()}
    context |= value_context(request, case)
    return render(request, "impact/page.html", context, status=200 if fine else WRONG)


def page_context(request: HttpRequest, case: Case, sent: SentLog | None = None) -> dict[str, Any]:
    """Return what the page shows beside the one value."""
    person, unit = person_of(request), temperature_unit(request.user)
    start = {"last_good": case.last_good_on}
    form = sent.form if sent else LogForm(None, None, fuels=usable_fuels(), unit=unit, initial=start)
    chosen = sent.limits if sent else chosen_limits(None, unit)
    context: dict[str, Any] = {
        "case": case,
        "rule": ONE_RULE,
        "unit": unit,
        "unit_sign": SIGNS[unit],
        "form": form,
        "fuels": usable_fuels(),
        "limits": chosen,
        "offered": offered_limits(),
        "quantities": quantity_choices(unit),
        "may_keep": may_keep(person),
        "kept": list(logs_seen_by(person).filter(analyzer=case.analyzer).defer("rows")[:50]),
        "today": timezone.localdate(),
    }
    if case.found is not None:
        context["channels"] = channels_found(case.found.errors, case.found.profile, unit)
        context["duty"] = duty_behind(case.found, the_shop())
    if sent is not None:
        context["given"] = sent.given
        context["asked"] = {one.setting for one in sent.given.questions}
        context["settings"] = [bound for bound in form.settings if bound.name not in context["asked"]]
        context["sent"] = True
        if sent.result is not None:
            context["worked"] = worked(sent.result, request.POST, unit, context["fuels"])
            context["site"] = request.POST.get("site", "")
    else:
        context["settings"] = form.settings
    return context


def value_context(request: HttpRequest, case: Case) -> dict[str, Any]:
    """Return the form of one value and, where it was asked well, the value corrected."""
    unit = temperature_unit(request.user)
    fuels = usable_fuels()
    form = ValueForm(request.GET, fuels=fuels, unit=unit, last_good=case.last_good_on)
    context: dict[str, Any] = {"case": case, "value_form": form, "rule": ONE_RULE}
    if case.found is None or not form.is_valid():
        return context
    last_good = form.cleaned_data["last_good"]
    if last_good is not None and last_good > timezone.localdate():
        form.add_error("last_good", FUTURE)
        return context
    content = LogContent((form.row(),), (), form.convention(), last_good)
    try:
        context["value"] = one_value(worked_through(case, content, fuels), unit)
    except FieldReadingError as error:
        form.add_error("last_good", f"{error}")
    return context
