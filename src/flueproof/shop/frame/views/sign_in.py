"""Signing in: name and password, then the code for those who have a second factor."""

from __future__ import annotations

from typing import Any, cast

from django.conf import settings
from django.contrib.auth import views as auth_views
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponseBase
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.forms.sign_in import CodeForm, SignInForm
from flueproof.shop.frame.presenters.pages import first_page
from flueproof.shop.frame.second_factor import has_second_factor, locked_until, verify
from flueproof.shop.records.models import Person
from flueproof.shop.records.people.rights import OWNER


class SignIn(auth_views.LoginView):
    """Name and password."""

    template_name = "frame/sign_in.html"
    form_class = SignInForm
    redirect_authenticated_user = True

    def get_context_data(self, **more: Any) -> dict[str, Any]:
        """Tell in the demo who may sign in and with what password; nothing real is behind it."""
        context: dict[str, Any] = super().get_context_data(**more)
        if settings.DEMO:
            people = Person.objects.filter(is_active=True).order_by("pk")
            context["demo_people"] = [(one.username, one.get_role_display()) for one in people]
            context["demo_password"] = settings.DEMO_PASSWORD
        return context

    def get_default_redirect_url(self) -> str:
        """Begin where this person works."""
        return first_page(self.request.user)

    def get_redirect_url(self, request: HttpRequest | None = None) -> str:  # noqa: ARG002 -- as its type says
        """Return the page that was asked for; an owner who came by the front door goes to the papers."""
        asked = super().get_redirect_url()
        outside = getattr(self.request.user, "role", "") == OWNER
        return "" if outside and asked == reverse("counter:jobs") else asked


@never_cache
@login_required
@require_http_methods(["GET", "POST"])
def code(request: HttpRequest) -> HttpResponseBase:
    """Ask for the second factor's code once a session."""
    person = cast("Person", request.user)
    onward = _next_of(request) or first_page(person)
    if cast("Any", person).is_verified() or not has_second_factor(person):
        return redirect(onward)
    form = CodeForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        if verify(request, person, form.cleaned_data["code"]):
            return redirect(onward)
        form.add_error("code", _refusal(person))
    return render(request, "frame/code.html", {"form": form, "next": onward})


def _refusal(person: Person) -> str:
    until = locked_until(person)
    if until and until > timezone.now():
        seconds = max(1, round((until - timezone.now()).total_seconds()))
        return f"This code is not right. Wait {seconds} s, then type the code that is on the phone."
    return "This code is not right. Type the one that is on the phone now."


def _next_of(request: HttpRequest) -> str:
    asked = request.POST.get("next") or request.GET.get("next") or ""
    safe = url_has_allowed_host_and_scheme(asked, {request.get_host()}, require_https=request.is_secure())
    return asked if safe else ""
