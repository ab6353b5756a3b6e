"""One step: its form, and recording it."""

from __future__ import annotations

import json
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.bench.errors import RecordError
from flueproof.shop.bench.forms.kinds import FORMS
from flueproof.shop.bench.forms.step_form import Setting, StepForm
from flueproof.shop.bench.views.on_bench import rack_in_use, today, visit_of
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.gas.morning import why_closed
from flueproof.shop.records.models import Visit
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.visits.acts.recording import MEASURING, record_step
from flueproof.shop.records.visits.events import SentDifferentlyError
from flueproof.shop.records.visits.judged import judged

_NOT_A_START = frozenset({"page", "asked"})


@require_http_methods(["GET", "HEAD", "POST"])
@requires("work-bench")
def step(request: HttpRequest, number: str, kind: str) -> HttpResponse:
    """Show the form of a step kind (a query fills it in), or record what was entered."""
    if kind not in FORMS:
        raise Http404(f"no form for a {kind} step")
    visit = visit_of(number)
    by: Any = request.user
    setting = Setting(judged(visit, today()), by, rack_in_use(), _start(request), visit.job.analyzer)
    if request.method != "POST":
        return _show(request, visit, FORMS[kind](setting=setting))
    form = FORMS[kind](request.POST, setting=setting)
    if form.is_valid() and not form.asks_back() and _recorded(form, visit, request):
        return _done(request, visit, form)
    return _show(request, visit, form, status=422)


def _start(request: HttpRequest) -> dict[str, Any]:
    return {name: value for name, value in request.GET.items() if name not in _NOT_A_START}


def _recorded(form: StepForm, visit: Visit, request: HttpRequest) -> bool:
    """Record the step and tell whether it went into the record; what the record refuses is shown in the form."""
    try:
        content = form.step()
        if content["kind"] in MEASURING and (why := why_closed(today(), the_shop(), visit.station)):
            form.add_error(None, f"The bench is closed: {why}")
            return False
        by: Any = request.user
        record_step(visit, content, by, timezone.now(), form.sender(), form.chosen_reference(), form.chosen_lot())
    except RecordError as error:
        form.add_record_error(error)
        return False
    except SentDifferentlyError:
        form.add_error(None, "This form was sent before with other values; close it and open it anew.")
        return False
    return True


def _show(request: HttpRequest, visit: Visit, form: StepForm, status: int = 200) -> HttpResponse:
    template = "bench/step.html" if request.htmx else "bench/step_page.html"  # type: ignore[attr-defined] # by its middleware
    closed = why_closed(today(), the_shop(), visit.station) if form.kind in MEASURING else ""
    context = {"form": form, "visit": visit, "job": visit.job, "kind": form.kind, "closed": closed}
    return render(request, template, context, status=status)


def _done(request: HttpRequest, visit: Visit, form: StepForm) -> HttpResponse:
    if not request.htmx:  # type: ignore[attr-defined] # by its middleware
        return redirect("bench:visit", number=visit.job.number)
    answer = HttpResponse("")
    said = {"text": f"{form.title}: recorded.", "level": "success"}
    answer["HX-Trigger"] = json.dumps({"flueproof:recorded": {}, "flueproof:say": said})
    return answer
