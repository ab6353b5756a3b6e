"""The people of the shop: list and new ones."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_safe

from flueproof.shop.house.forms.person import PasswordForm, PersonForm
from flueproof.shop.house.views.rendering import house_page, person_of
from flueproof.shop.records.models import Person
from flueproof.shop.records.people.changing import set_password
from flueproof.shop.records.people.rights import requires


@requires("change-people")
@require_safe
def people(request: HttpRequest) -> HttpResponse:
    """List everybody, those who left last."""
    rows = Person.objects.select_related("owner").order_by("-is_active", "role", "username")
    return house_page(request, "people.html", {"rows": rows})


@requires("change-people")
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest) -> HttpResponseBase:
    """Add a person with a first password."""
    form, password = PersonForm(request.POST or None), PasswordForm(request.POST or None)
    if request.method == "POST":
        valid, strong = form.is_valid(), password.is_valid()
        if valid and strong:
            with transaction.atomic():
                made = form.save_seen(person_of(request))
                if made is not None:
                    set_password(made, password.cleaned_data["password"], person_of(request))
                    messages.success(
                        request, f"{made} may sign in as {made.username}. Tell them the password yourself."
                    )
                    return redirect("house:people")
    context = {"form": form, "password": password}
    return house_page(request, "person_new.html", context, status=422 if form.is_bound else 200)
