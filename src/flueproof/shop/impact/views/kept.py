"""Logs that are kept because the owner said so: kept, opened again and computed anew, erased."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.impact.errors import ImpactError
from flueproof.impact.field_log.results import LogResult
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.frame.presenters.amounts import temperature_unit
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.impact.at_work import Case, case_of, case_with, log_named, person_of
from flueproof.shop.impact.forms.keep import KeepForm
from flueproof.shop.impact.letter import duty_behind
from flueproof.shop.impact.presenters.results import worked
from flueproof.shop.impact.views.page import log_page
from flueproof.shop.impact.working import sent_log, worked_through
from flueproof.shop.records.field_logs.erasing import erase_log
from flueproof.shop.records.field_logs.keeping import KeepingError, content_of, keep_log
from flueproof.shop.records.field_logs.seeing import may_keep
from flueproof.shop.records.fuels.finding import usable_fuels
from flueproof.shop.records.models import FieldLog
from flueproof.shop.records.people.rights import requires


@requires("see-own-papers")
@require_POST
def keep(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep a log that was sent, with the owner's word; without it nothing is stored and all stays in the page."""
    case = case_of(request, pk, request.POST)
    _may_keep(request)
    sent, form = sent_log(request, case), KeepForm(request.POST)
    if not form.is_valid() or sent.content is None or case.visit is None:
        return log_page(request, case, sent, form)
    try:
        log = keep_log(case.visit, sent.content, form.consent(), person_of(request), timezone.now())
    except KeepingError as error:
        form.add_error(error.field, f"{error}")
        return log_page(request, case, sent, form)
    messages.success(request, "The log is kept, with the owner's word, until the day that was said.")
    return redirect("impact:kept", log.pk)


@requires("see-own-papers")
@require_safe
def kept(request: HttpRequest, pk: int) -> HttpResponse:
    """Open a kept log and compute it anew, from the visit it was kept with."""
    log, case, result = opened(request, pk)
    context: dict[str, Any] = {
        "log": log,
        "case": case,
        "rule": ONE_RULE,
        "may_keep": may_keep(person_of(request)),
        "site": request.GET.get("site", ""),
        "duty": duty_behind(case.found, the_shop()) if case.found is not None else None,
    }
    if result is not None:
        context["worked"] = worked(result, request.GET, temperature_unit(request.user), usable_fuels())
    return render(request, "impact/kept.html", context)


@requires("see-own-papers")
@require_POST
def erase(request: HttpRequest, pk: int) -> HttpResponse:
    """Erase a kept log for good."""
    log = log_named(request, pk)
    _may_keep(request)
    if erase_log(log.pk):
        messages.success(request, "The log is erased. Backups that were made before still hold it until they go.")
    return redirect("impact:analyzer", log.analyzer_id)


def opened(request: HttpRequest, pk: int) -> tuple[FieldLog, Case, LogResult | None]:
    """Return a kept log, its case, and its result; None where it cannot be computed any more, which the case says."""
    log = log_named(request, pk)
    case = case_with(log.analyzer, [log.visit], log.visit)
    try:
        return log, case, worked_through(case, content_of(log), usable_fuels())
    except (ImpactError, KeyError, ValueError) as error:
        case = Case(case.analyzer, case.visits, case.visit, case.found, case.last_good, case.cannot or f"{error}")
        return log, case, None


def _may_keep(request: HttpRequest) -> None:
    if not may_keep(person_of(request)):
        raise PermissionDenied("Your role may not keep or erase field logs of owners.")
