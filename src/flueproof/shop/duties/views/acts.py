"""What a person does about a duty: tells the owner, writes, says why not, opens it again."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.duties.at_work import duty_named, person_of
from flueproof.shop.duties.forms.telling import ActForm, MailForm, WhyForm
from flueproof.shop.duties.views.duty import page
from flueproof.shop.records.duties.letters import send_notice
from flueproof.shop.records.duties.notices import Words
from flueproof.shop.records.duties.telling import DutyEndedError, DutyError, keep_act, need_not, open_again
from flueproof.shop.records.people.rights import requires


@requires("tell-owners")
@require_POST
def tell_owner(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep one try; the one that reached somebody ends the duty, and whoever comes second sees who was first."""
    row, form = duty_named(pk), ActForm(request.POST, auto_id="tell_%s")
    if not form.is_valid():
        return page(request, row, {"tell": form})
    said = form.cleaned_data
    try:
        act = keep_act(row, said["way"], person_of(request), timezone.now(), whom=said["whom"], words=said["words"])
    except DutyEndedError as error:
        return page(request, error.duty, {"tell": form}, ended=True)
    except DutyError as error:
        form.add_error(_field(said["way"], str(error)), str(error))
        return page(request, row, {"tell": form})
    row.refresh_from_db()
    if row.state == "told":
        messages.success(request, f"Kept. {row.owner} knows.")
    elif act.way == "note":
        messages.success(request, "The note is kept.")
    elif act.way == "not-reached":
        messages.warning(request, "Kept. It stays on the list: try again.")
    else:
        messages.warning(request, "Kept. It stays on the list until somebody has spoken to the owner.")
    return redirect("duties:duty", pk)


@requires("tell-owners")
@require_POST
def write_mail(request: HttpRequest, pk: int) -> HttpResponse:
    """Send the notice by e-mail, in the words as they were typed."""
    row = duty_named(pk)
    form = MailForm(request.POST, auto_id="mail_%s", duty=row)
    if not form.is_valid():
        return page(request, row, {"mail": form})
    said = form.cleaned_data
    try:
        act = send_notice(row, Words(said["subject"], said["words"]), said["to"], person_of(request), timezone.now())
    except DutyEndedError as error:
        return page(request, error.duty, {"mail": form}, ended=True)
    except DutyError as error:
        form.add_error(None, str(error))
        return page(request, row, {"mail": form})
    row.refresh_from_db()
    if act.way == "not-reached":
        messages.error(request, f"Not sent. {act.words}.")
    elif row.state == "told":
        messages.success(request, f"It goes to {act.whom}.")
    else:
        messages.warning(request, f"It goes to {act.whom}. Still call today: nobody knows whether it is read.")
    return redirect("duties:duty", pk)


@requires("tell-owners")
@require_POST
def need_not_tell(request: HttpRequest, pk: int) -> HttpResponse:
    """End a duty because the owner need not be told; the reason stays."""
    row, form = duty_named(pk), WhyForm(request.POST, auto_id="need_%s")
    if not form.is_valid():
        return page(request, row, {"need": form})
    try:
        need_not(row, form.cleaned_data["why"], person_of(request), timezone.now())
    except DutyEndedError as error:
        return page(request, error.duty, {"need": form}, ended=True)
    messages.success(request, "Kept, with the reason.")
    return redirect("duties:duty", pk)


@requires("tell-owners")
@require_POST
def again(request: HttpRequest, pk: int) -> HttpResponse:
    """Open a duty again that was ended by mistake."""
    row, form = duty_named(pk), WhyForm(request.POST, auto_id="again_%s")
    if not form.is_valid():
        return page(request, row, {"again": form})
    try:
        open_again(row, form.cleaned_data["why"], person_of(request), timezone.now())
    except DutyError as error:
        form.add_error(None, str(error))
        return page(request, row, {"again": form})
    messages.success(request, "It is open again.")
    return redirect("duties:duty", pk)


def _field(way: str, said: str) -> str | None:
    if way in {"phone", "in-person"} and "who was told" in said:
        return "whom"
    return "words" if way in {"not-reached", "note"} else None
