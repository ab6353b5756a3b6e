"""What leaves the page: the list as CSV and JSON, and the notice letter; of a log that is sent, or of a kept one."""

from __future__ import annotations

import json
from typing import Any, Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.impact.field_log.results import LogResult
from flueproof.impact.field_log.writing import result_csv, result_json
from flueproof.shop.frame.presenters.amounts import temperature_unit
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.impact.at_work import Case, case_of, person_of
from flueproof.shop.impact.letter import duty_behind, letter_with_log
from flueproof.shop.impact.views.kept import opened
from flueproof.shop.impact.views.page import log_page
from flueproof.shop.impact.working import sent_log
from flueproof.shop.records.people.rights import requires

_MEDIA: Final = {"csv": "text/csv; charset=utf-8", "json": "application/json", "pdf": "application/pdf"}
_NO_LETTER: Final = "Nothing was found outside the limits as found: there is nothing to tell in a letter."


@requires("see-own-papers")
@require_POST
def sent(request: HttpRequest, pk: int, ending: str) -> HttpResponse:
    """Answer with a log that was sent as CSV, JSON or letter; where it cannot be worked through, with the page."""
    case = case_of(request, pk, request.POST)
    given = sent_log(request, case)
    answer = None if given.result is None else _file(request, case, given.result, ending)
    return answer or log_page(request, case, given)


@requires("see-own-papers")
@require_safe
def kept(request: HttpRequest, pk: int, ending: str) -> HttpResponse:
    """Answer with a kept log, computed again."""
    log, case, result = opened(request, pk)
    answer = None if result is None else _file(request, case, result, ending)
    return answer or redirect("impact:kept", log.pk)


def _file(request: HttpRequest, case: Case, result: LogResult, ending: str) -> HttpResponse | None:
    unit: Any = temperature_unit(request.user)
    if ending == "csv":
        body: str | bytes = f"\ufeff{result_csv(result, unit)}"  # without the mark, spreadsheets take it for latin-1
    elif ending == "json":
        body = json.dumps(result_json(result), ensure_ascii=False, allow_nan=False, indent=1)
    else:
        shop = the_shop()
        duty = duty_behind(case.found, shop) if case.found is not None else None
        if duty is None or case.found is None:
            messages.error(request, _NO_LETTER)
            return None
        body = letter_with_log(case.found, duty, result, person_of(request), timezone.localdate(), shop)
    answer = HttpResponse(body, content_type=_MEDIA[ending])
    what = "notice" if ending == "pdf" else "field-log"
    serial = "".join(sign if sign.isalnum() and sign.isascii() else "-" for sign in case.analyzer.serial)
    answer["Content-Disposition"] = f'attachment; filename="{what}-{serial}.{ending}"'
    answer["Cache-Control"] = "private, no-store"
    answer["X-Content-Type-Options"] = "nosniff"
    return answer
