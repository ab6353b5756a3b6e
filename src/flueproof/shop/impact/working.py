"""A log worked through with the error of a case: from what was sent, or from what was kept."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.utils import timezone

from flueproof.chemistry.fuels.fuel import Fuel
from flueproof.impact.errors import FieldReadingError
from flueproof.impact.field_log.results import LogResult, work_through
from flueproof.shop.frame.presenters.amounts import temperature_unit
from flueproof.shop.impact.at_work import Case
from flueproof.shop.impact.forms.limits import ChosenLimits, chosen_limits
from flueproof.shop.impact.forms.log import GivenLog, LogForm
from flueproof.shop.impact.forms.value import as_convention
from flueproof.shop.records.field_logs.keeping import LogContent
from flueproof.shop.records.field_logs.last_good import history_of
from flueproof.shop.records.fuels.finding import usable_fuels

FUTURE = "The last good day lies ahead: correct it, or leave it empty."


@dataclass
class SentLog:
    """A log as it was sent: the form, the limits, what was read, its content and result where it could be worked."""

    form: LogForm
    limits: ChosenLimits
    given: GivenLog
    content: LogContent | None = None
    result: LogResult | None = None


def sent_log(request: HttpRequest, case: Case) -> SentLog:
    """Return what a person sent, worked through as far as it can be; nothing of it is stored."""
    unit = temperature_unit(request.user)
    fuels = usable_fuels()
    form = LogForm(request.POST, request.FILES, fuels=fuels, unit=unit)
    limits = chosen_limits(request.POST, unit)
    if not form.is_valid() or case.found is None:
        return SentLog(form, limits, GivenLog())
    given = form.read()
    sent = SentLog(form, limits, given)
    if given.fault or given.questions or not limits.fine:
        return sent
    last_good = form.cleaned_data["last_good"]
    if last_good is not None and last_good > timezone.localdate():
        form.add_error("last_good", FUTURE)
        return sent
    content = LogContent(given.rows, limits.limits, form.convention(), last_good)
    try:
        sent.result = worked_through(case, content, fuels)
    except FieldReadingError as error:
        form.add_error("last_good", f"{error}")
        return sent
    sent.content = content
    return sent


def worked_through(case: Case, content: LogContent, fuels: dict[str, Fuel]) -> LogResult:
    """Return a log worked through with what the case found.

    Raises: FieldReadingError where the last good day lies after the finding, or a fuel is not known any more.
    """
    if case.found is None:
        raise FieldReadingError(case.cannot)
    history = history_of(case.found, case.last_good, content.last_good)
    convention: Any = as_convention(content.convention)
    return work_through(content.rows, history, content.limits, own_fuels=fuels, **convention)
