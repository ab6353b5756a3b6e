"""One person: role, password, leaving, a lockout, a lost second factor."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods, require_POST

from flueproof.shop.house.forms.person import PasswordForm, PersonForm
from flueproof.shop.house.views.rendering import house_page, person_of
from flueproof.shop.records.models import Person
from flueproof.shop.records.people import changing
from flueproof.shop.records.people.rights import requires


@requires("change-people")
@require_http_methods(["GET", "POST"])
def change(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Show a person and save name, role and firm."""
    row = get_object_or_404(Person, pk=pk)
    form = PersonForm(request.POST or None, instance=Person.objects.get(pk=pk))
    if request.method == "POST" and form.is_valid() and form.save_seen(person_of(request)) is not None:
        messages.success(request, "Saved.")
        return redirect("house:person", pk)
    return _page(request, row, form=form, status=422 if form.is_bound else 200)


@requires("change-people")
@require_POST
def password(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Give a person a new password."""
    row = get_object_or_404(Person, pk=pk)
    form = PasswordForm(request.POST, person=row)
    if not form.is_valid():
        return _page(request, row, password_form=form, status=422)
    saved = changing.set_password(row, form.cleaned_data["password"], person_of(request))
    if saved.pk == person_of(request).pk:
        update_session_auth_hash(request, saved)
    messages.success(request, f"{saved} has the new password and is signed out everywhere. Tell it to them yourself.")
    return redirect("house:person", pk)


@requires("change-people")
@require_POST
def leave(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Let a person in no longer."""
    row = get_object_or_404(Person, pk=pk)
    try:
        changing.let_go(row, person_of(request))
    except changing.LastManagerError as error:
        return _page(request, row, refusal=str(error), status=422)
    messages.success(request, f"{row} can sign in no longer. What they did keeps their name.")
    return redirect("house:people")


@requires("change-people")
@require_POST
def come_back(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Let a person in again."""
    row = get_object_or_404(Person, pk=pk)
    changing.take_back(row, person_of(request))
    messages.success(request, f"{row} may sign in again.")
    return redirect("house:person", pk)


@requires("change-people")
@require_POST
def lockout(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Forget the wrong passwords typed under a person's name."""
    row = get_object_or_404(Person, pk=pk)
    changing.lift_lockout(row)
    messages.success(request, f"{row} may try again at once.")
    return redirect("house:person", pk)


@requires("change-people")
@require_POST
def second_factor(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Remove the second factor of a person who lost their device."""
    row = get_object_or_404(Person, pk=pk)
    changing.drop_second_factor(row)
    messages.success(request, f"{row} signs in with the password alone until they set up a new code.")
    return redirect("house:person", pk)


def _page(
    request: HttpRequest,
    row: Person,
    *,
    form: PersonForm | None = None,
    password_form: PasswordForm | None = None,
    refusal: str = "",
    status: int = 200,
) -> HttpResponse:
    context = {
        "row": row,
        "form": form or PersonForm(instance=Person.objects.get(pk=row.pk)),
        "password": password_form or PasswordForm(person=row),
        "refusal": refusal,
        "locked_out": changing.is_locked_out(row),
        "second_factor": changing.has_second_factor(row),
    }
    return house_page(request, "person.html", context, status=status)
