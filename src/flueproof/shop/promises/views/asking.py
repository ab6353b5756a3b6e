"""The questions on the phone: asked by a form, answered beside it; taking what was answered."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.shop.promises.forms.asking import AwayForm, CanForm, RoomForm
from flueproof.shop.promises.presenters.answer import answer_of, away_of, moment_of_day
from flueproof.shop.promises.views.who import person_of
from flueproof.shop.records.models import Job
from flueproof.shop.records.people.rights import may, requires
from flueproof.shop.records.promises.calendar import shop_calendar
from flueproof.shop.records.promises.questions import CannotAnswerError, can_be_done, how_many_more, who_is_away
from flueproof.shop.records.promises.taking import NotConfirmedError, take


@requires("see-plan")
@require_safe
def can(request: HttpRequest) -> HttpResponse:
    """Answer "can this be done by then?"; nothing is kept."""
    now = timezone.now()
    form = CanForm(request.GET or None, auto_id="can_%s", now=now)
    return _answered(request, "can", form, lambda: {"answer": answer_of(can_be_done(form.asked(), now))})


@requires("plan-work")
@require_POST
def taken(request: HttpRequest) -> HttpResponseBase:
    """Take a job for the moment that was asked for; the names of broken promises come with it, or it is refused."""
    now = timezone.now()
    form = CanForm(request.POST, auto_id="can_%s", now=now)
    if form.is_valid():
        try:
            plan = take(form.asked(), request.POST.getlist("breaks"), person_of(request), now)
        except NotConfirmedError as error:
            context = {"answer": answer_of(error.answer), "refused": str(error)}
            return _shown(request, "can", form, context, status=422)
        except CannotAnswerError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{plan.why}. The plan has it.")
            return redirect("promises:plan")
    return _shown(request, "can", form, {}, status=422)


@requires("see-plan")
@require_safe
def away(request: HttpRequest) -> HttpResponse:
    """Answer what it means that somebody is away; nothing is kept."""
    now = timezone.now()
    form = AwayForm(request.GET or None, auto_id="away_%s", now=now)

    def answer() -> dict[str, Any]:
        got = form.cleaned_data
        return {"answer": away_of(who_is_away(got["person"], got["first"], got["last"] or got["first"], now))}

    return _answered(request, "away", form, answer)


@requires("see-plan")
@require_safe
def room(request: HttpRequest) -> HttpResponse:
    """Answer how many more jobs can be taken; nothing is kept."""
    now = timezone.now()
    form = RoomForm(request.GET or None, auto_id="room_%s", now=now)

    def answer() -> dict[str, Any]:
        got = form.cleaned_data
        until = moment_of_day(got["until"], shop_calendar())
        return {"count": how_many_more(got["service"], until, now), "until": got["until"], "kind": got["service"]}

    return _answered(request, "room", form, answer)


def _answered(request: HttpRequest, which: str, form: Any, answer: Any) -> HttpResponse:
    """Show a question with its answer, or with what is wrong with it."""
    if not form.is_bound:
        return _shown(request, which, form, {})
    context: dict[str, Any] = {}
    if form.is_valid():
        try:
            context = answer()
        except CannotAnswerError as error:
            form.add_error(None, str(error))
    return _shown(request, which, form, context, status=422 if form.errors else 200)


def _shown(request: HttpRequest, which: str, form: Any, context: dict[str, Any], status: int = 200) -> HttpResponse:
    told = context | {"form": form, "which": which, "may_take": may(request.user, "plan-work")}
    fragment = bool(request.htmx)  # type: ignore[attr-defined] # middleware
    told |= {"services": dict(Job.SERVICES), "fragment": fragment}
    return render(request, f"promises/{'answer' if fragment else 'answer_page'}.html", told, status=status)
