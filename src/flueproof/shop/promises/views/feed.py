"""The plan in other calendars: secret addresses, made, told once and withdrawn; and what is behind one."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.shop.frame.door.client_address import client_address
from flueproof.shop.promises.views.who import person_of
from flueproof.shop.records.access.tokens import TokenUnknownError, withdraw_token
from flueproof.shop.records.models import Person
from flueproof.shop.records.people.rights import public, requires
from flueproof.shop.records.promises.plan.feeds import calendar_behind, feed_named, feeds_of, make_feed, whose_feed

_MOST_WRONG, _MINUTES = 30, 15


class FeedForm(forms.Form):
    """Whose work."""

    whose = forms.ModelChoiceField(
        label="Whose work", queryset=Person.objects.none(), required=False, empty_label="everybody's, and all promises"
    )

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type] # as Django's form takes them
        field: forms.ModelChoiceField[Person] = self.fields["whose"]  # type: ignore[assignment] # declared above
        field.queryset = Person.objects.filter(working_pattern__planned=True, is_active=True).order_by("last_name")


@requires("see-plan")
@require_http_methods(["GET", "HEAD", "POST"])
def calendars(request: HttpRequest) -> HttpResponse:
    """List a person's own secret addresses and make one; it is on the answer to the press and nowhere else."""
    form, address = FeedForm(request.POST or None), ""
    if request.method == "POST" and form.is_valid():
        _, secret = make_feed(form.cleaned_data["whose"], person_of(request))
        address = request.build_absolute_uri(reverse("promises:feed", args=[f"{secret}.ics"]))
    rows = [(row, whose_feed(row)) for row in feeds_of(person_of(request))]
    context = {"form": form, "address": address, "rows": rows}
    answer = render(request, "promises/calendars.html", context, status=422 if form.errors else 200)
    answer["Cache-Control"] = "no-store"
    return answer


@requires("see-plan")
@require_POST
def withdraw(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Withdraw one of the person's own addresses for good."""
    row = feed_named(person_of(request), pk)
    if row is None:
        messages.error(request, "That is none of your calendar addresses.")
    else:
        withdraw_token(row, person_of(request), timezone.now())
        messages.success(request, "That address opens nothing any more.")
    return redirect("promises:calendars")


@public
@require_safe
def feed(request: HttpRequest, secret: str) -> HttpResponse:
    """Answer with the calendar behind a secret address; who tries many wrong ones is told to wait."""
    key = f"calendar-wrong-{client_address(request)}"
    if cache.get(key, 0) >= _MOST_WRONG:
        return HttpResponse("Too many wrong addresses; try again in a quarter of an hour.", status=429)
    try:
        body = calendar_behind(secret.removesuffix(".ics"), timezone.now())
    except TokenUnknownError:
        cache.add(key, 0, _MINUTES * 60)
        cache.incr(key)
        return HttpResponse("There is no calendar here.", status=404, content_type="text/plain; charset=utf-8")
    answer = HttpResponse(body, content_type="text/calendar; charset=utf-8")
    answer["Cache-Control"] = "private, max-age=300"
    answer["Referrer-Policy"] = "no-referrer"
    return answer
