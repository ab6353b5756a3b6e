"""Setting up, renewing and switching off one's own second factor."""

from __future__ import annotations

from typing import Any, Final, cast

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.frame import second_factor as factor
from flueproof.shop.frame.forms.password import PasswordAgainForm
from flueproof.shop.frame.forms.sign_in import NewCodeForm
from flueproof.shop.records.models import Person

_GIVEN: Final = "second-factor-password-given"  # in the session: when
_HOLDS_S: Final = 600.0  # time enough to find a program for the phone


@sensitive_post_parameters()
@never_cache
@login_required
@require_http_methods(["GET", "POST"])
def second_factor(request: HttpRequest) -> HttpResponseBase:
    """Ask for the password, then show the key and confirm it by the first code; or show what is set up."""
    person = cast("Person", request.user)
    if factor.has_second_factor(person):
        return _set_up(request, person, PasswordAgainForm(request))
    if not _password_was_given(request):
        return _ask_password(request, person)
    form = NewCodeForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        codes = factor.confirm(request, person, form.cleaned_data["code"])
        if codes:
            del request.session[_GIVEN]
            return render(request, "frame/backup_codes.html", {"codes": codes, "fresh": True})
        form.add_error("code", "This code is not right. Type the one that is on the phone now.")
    device = factor.begin(person)
    facts = {"picture": factor.picture_of(device), "key": factor.key_in_groups(device)}
    return render(request, "frame/second_factor.html", {"form": form, **facts})


def _ask_password(request: HttpRequest, person: Person) -> HttpResponseBase:
    """Ask for the password before a key is shown: a tablet left lying must not get a stranger's phone."""
    form = PasswordAgainForm(request, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        factor.begin_anew(person)
        request.session[_GIVEN] = timezone.now().timestamp()
        return redirect("frame:second-factor")
    return render(request, "frame/second_factor_begin.html", {"form": form})


def _password_was_given(request: HttpRequest) -> bool:
    given = request.session.get(_GIVEN)
    return given is not None and 0 <= timezone.now().timestamp() - given <= _HOLDS_S


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
