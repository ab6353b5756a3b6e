"""What a person does about a reference found wrong: judges the next visits at once, writes to all owners."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.duties.at_work import finding_named, person_of
from flueproof.shop.records.duties.beside import AT_ONCE
from flueproof.shop.records.duties.letters import write_all
from flueproof.shop.records.duties.telling import DutyError
from flueproof.shop.records.duties.wrong_reference import judge_on, progress_of
from flueproof.shop.records.people.rights import requires


@requires("declare-reference-wrong")
@require_POST
def judge_next(request: HttpRequest, pk: int) -> HttpResponse:
    """Judge the next visits here and now; for when nothing works beside the pages, or somebody cannot wait."""
    finding = finding_named(pk)
    done = sum(1 for _ in judge_on(finding, timezone.now(), AT_ONCE))
    stands = progress_of(finding)
    if stands.finished:
        messages.success(request, f"All {stands.all} visits are judged again.")
    else:
        messages.info(request, f"{done} judged again, {stands.all - stands.done} to go.")
    return redirect("duties:finding", pk)


@requires("tell-owners")
@require_POST
def write_letters(request: HttpRequest, pk: int) -> HttpResponse:
    """Write to every owner who is not told yet; those without an address are named, to be called."""
    try:
        written = write_all(finding_named(pk), person_of(request), timezone.now())
    except DutyError as error:
        messages.error(request, f"Not all could be written. {error}")
        return redirect("duties:finding", pk)
    count = len(written.letters)
    if count:
        messages.success(request, f"{count} e-mail{'s' if count > 1 else ''} written into the outbox.")
    if written.to_call:
        names = ", ".join(owner.name for owner in written.to_call)
        messages.warning(request, f"No e-mail for {names}: call, or print the letter.")
    if not count and not written.to_call:
        messages.info(request, "Everybody was written to already.")
    return redirect("duties:finding", pk)
