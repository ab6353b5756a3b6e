"""A page with one form about one job: shown, sent, refused where the eye is, done once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from flueproof.shop.records.models import Job
from flueproof.shop.returns.at_work import job_named


@dataclass(frozen=True, slots=True)
class Act:
    """What the page says and does.

    do: gets the job and the form, returns what is told; errors: what it refuses by; caution: said before it is done.
    """

    title: str
    button: str
    do: Callable[[HttpRequest, Job, forms.Form], str]
    errors: tuple[type[Exception], ...]
    caution: str = ""
    drawing: str = "box"
    grave: bool = False


def act_on_job(
    request: HttpRequest, number: str, act: Act, form: Callable[[Job, Any, Any], forms.Form], to: str = "counter:job"
) -> HttpResponse:
    """Show the form, or do what it asks and go back to the job; a refusal stands in the form with all that was typed.

    form: gets the job, what was posted and its files (None for a fresh one).
    """
    job = job_named(number)
    sent = request.method == "POST"
    shown = form(job, request.POST if sent else None, request.FILES if sent else None)
    if sent and shown.is_valid():
        try:
            told = act.do(request, job, shown)
        except act.errors as error:
            shown.add_error(None, f"{str(error).rstrip('.')}.")
        else:
            if told:
                messages.success(request, told)
            return redirect(to, number)
    first = next((bound for bound in shown.visible_fields() if bound.errors), None) or next(iter(shown), None)
    if first is not None:
        first.field.widget.attrs["autofocus"] = True
    context = {"job": job, "form": shown, "act": act}
    return render(request, "returns/act.html", context, status=422 if sent else 200)
