"""Tokens of programs."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.house.forms.access import TokenForm
from flueproof.shop.house.presenters import token_lines
from flueproof.shop.house.views.rendering import house_page, person_of
from flueproof.shop.records.access.tokens import TokenRefusedError, make_token, withdraw_token
from flueproof.shop.records.models import ApiToken
from flueproof.shop.records.people.rights import requires


@requires("change-tokens")
@require_http_methods(["GET", "POST"])
def tokens(request: HttpRequest) -> HttpResponse:
    """List the tokens and make one; its text is on the answer to the press and nowhere else."""
    today = timezone.localdate()
    form = TokenForm(request.POST or None, person=person_of(request), today=today)
    made = text = None
    if request.method == "POST" and form.is_valid():
        chosen = form.cleaned_data
        try:
            made, text = make_token(
                chosen["name"],
                chosen["rights"],
                person_of(request),
                station=chosen["station"],
                expires_on=chosen["expires_on"],
            )
            form = TokenForm(person=person_of(request), today=today)
        except TokenRefusedError as error:
            form.add_error("station" if "station" in str(error) else "rights", str(error))
    rows = token_lines(list(ApiToken.objects.select_related("person", "station")), today)
    context = {"form": form, "rows": rows, "made": made, "text": text}
    answer = house_page(request, "tokens.html", context, status=422 if form.errors else 200)
    answer["Cache-Control"] = "no-store"
    return answer


@requires("change-tokens")
@require_POST
def withdraw(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Withdraw a token for good."""
    row = withdraw_token(get_object_or_404(ApiToken, pk=pk), person_of(request), timezone.now())
    messages.success(request, f"{row} opens nothing any more.")
    return redirect("house:tokens")
