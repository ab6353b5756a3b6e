"""Setting up, renewing and switching off one's own second factor."""

from __future__ import annotations

from typing import Any, cast

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.frame import second_factor as factor
from flueproof.shop.frame.forms.password import PasswordAgainForm
from flueproof.shop.frame.forms.sign_in import NewCodeForm
from flueproof.shop.records.models import Person


@never_cache
@login_required
@require_http_methods(["GET", "POST"])
def second_factor(request: HttpRequest) -> HttpResponseBase:
    """Show how to set it up and confirm by the first code; or what is set up."""
    person = cast("Person", request.user)
    if factor.has_second_factor(person):
        return _set_up(request, person, PasswordAgainForm(request))
    form = NewCodeForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        codes = factor.confirm(request, person, form.cleaned_data["code"])
        if codes:
            return render(request, "frame/backup_codes.html", {"codes": codes, "fresh": True})
        form.add_error("code", "This code is not right. Type the one that is on the phone now.")
    device = factor.begin(person)
    facts = {"picture": factor.picture_of(device), "key": factor.key_in_groups(device)}
    return render(request, "frame/second_factor.html", {"form": form, **facts})


@sensitive_post_parameters()
@never_cache
@login_required
@require_POST
def switch_off(request: HttpRequest) -> HttpResponseBase:
    """Switch the second factor off, with the password."""
    person = cast("Person", request.user)
    form = PasswordAgainForm(request, request.POST)
    if not factor.has_second_factor(person):
        return redirect("frame:second-factor")
    if not form.is_valid():
        return _set_up(request, person, form)
    factor.switch_off(person)
    messages.success(request, "The second factor is off. Signing in asks for the password only.")
    return redirect("frame:me")


@sensitive_post_parameters()
@never_cache
@login_required
@require_POST
def new_codes(request: HttpRequest) -> HttpResponseBase:
    """Make ten new backup codes, with the password; the old ones stop working."""
    person = cast("Person", request.user)
    form = PasswordAgainForm(request, request.POST)
    if not factor.has_second_factor(person):
        return redirect("frame:second-factor")
    if not form.is_valid():
        return _set_up(request, person, form)
    return render(request, "frame/backup_codes.html", {"codes": factor.new_backup_codes(person), "fresh": False})


def _set_up(request: HttpRequest, person: Person, form: Any) -> HttpResponseBase:
    facts = {"form": form, "left": factor.backup_codes_left(person)}
    return render(request, "frame/second_factor_on.html", facts)
