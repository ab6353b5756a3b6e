"""Changing one's own password."""

from __future__ import annotations

from typing import cast

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.forms.password import NewPasswordForm
from flueproof.shop.records.models import Person


@sensitive_post_parameters()
@never_cache
@login_required
@require_http_methods(["GET", "POST"])
def password(request: HttpRequest) -> HttpResponseBase:
    """Change the password; this session stays, all others of this person end."""
    form = NewPasswordForm(
        request,
        Person.objects.get(pk=cast("Person", request.user).pk),
        request.POST if request.method == "POST" else None,
    )
    if request.method == "POST" and form.is_valid():
        update_session_auth_hash(request, form.save())
        messages.success(request, "The new password holds. You are signed out everywhere else.")
        return redirect("frame:me")
    return render(request, "frame/password.html", {"form": form})
