"""What is done to a job from its page: take in the box, move, hold, let go on, hand out, note."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from flueproof.shop.counter.forms.job import ReceiveForm
from flueproof.shop.counter.forms.moving import HandOutForm, HoldForm, MoveForm, NoteForm, ReleaseForm
from flueproof.shop.counter.presenters.job_page import Refused
from flueproof.shop.counter.views.job import job_named, sent_back
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.records.intake.condition import Found
from flueproof.shop.records.jobs.box import PlateTakenError, hand_out, read_plate
from flueproof.shop.records.jobs.holding import hold, release
from flueproof.shop.records.jobs.moves import make_move
from flueproof.shop.records.jobs.moving import MoveRefusedError, add_note
from flueproof.shop.records.jobs.receiving import take_in
from flueproof.shop.records.models import Job, Person
from flueproof.shop.records.people.rights import requires


@requires("change-jobs")
@require_POST
def receive(request: HttpRequest, number: str) -> HttpResponse:
    """Take in the box: condition, what is in it, the plate where nobody read it yet."""
    job = job_named(number)
    form = ReceiveForm(request.POST, instance=job)
    if not form.is_valid():
        return sent_back(request, number, {"receive": form})
    try:
        with transaction.atomic():
            saved = form.save_seen(person_of(request))
            if saved is None:
                return sent_back(request, number, {"receive": form})
            if serial := form.cleaned_data.get("serial", ""):
                read_plate(saved, serial, person_of(request))
            found = Found(saved.enclosed, saved.condition)
            take_in(saved, found, person_of(request), timezone.now(), came_on=saved.received_on)
    except PlateTakenError as error:
        form.add_error("serial", f"{error}.")
        return sent_back(request, number, {"receive": form})
    except MoveRefusedError as error:
        form.add_error(None, f"{error}.")
        return sent_back(request, number, {"receive": form})
    messages.success(request, f"{number} is here.")
    return redirect("counter:job", number=number)


@requires("change-jobs")
@require_POST
def move(request: HttpRequest, number: str) -> HttpResponse:
    """Make one of the moves that the page offers."""
    job, form = job_named(number), MoveForm(request.POST)
    if not form.is_valid():
        return sent_back(request, number, {}, Refused("", "This page sent no move that we know. Load it again.", ""))
    to, why = form.cleaned_data["to"], form.cleaned_data["why"]
    if job.state not in {to, form.cleaned_data["seen_state"]}:
        words = f"Somebody moved {number} meanwhile: it is {job.get_state_display()}. Look again."
        return sent_back(request, number, {}, Refused(to, words, why))
    try:
        make_move(job, to, person_of(request), timezone.now(), why)
    except MoveRefusedError as error:
        return sent_back(request, number, {}, Refused(to, f"{error}.", why))
    return redirect("counter:job", number=number)


@requires("change-jobs")
@require_POST
def hold_job(request: HttpRequest, number: str) -> HttpResponse:
    """Stop job and clock until somebody decides."""
    job, form = job_named(number), HoldForm(request.POST, auto_id="hold_%s")
    if form.is_valid():
        try:
            hold(job, person_of(request), timezone.now(), form.cleaned_data["why"], form.cleaned_data["waits_for"])
        except MoveRefusedError as error:
            form.add_error(None, f"{error}.")
        else:
            return redirect("counter:job", number=number)
    return sent_back(request, number, {"hold": form})


@requires("change-jobs")
@require_POST
def release_job(request: HttpRequest, number: str) -> HttpResponse:
    """Let a held job, or one that waited for parts, go on."""
    job = job_named(number)
    if job.state not in {"held", "parts"}:
        messages.info(request, f"{number} goes on already: it is {job.get_state_display()}.")
        return redirect("counter:job", number=number)
    form = ReleaseForm(request.POST, job=job)
    if form.is_valid():
        try:
            _release(job, form, person_of(request))
        except MoveRefusedError as error:
            form.add_error(None, f"{error}.")
        else:
            return redirect("counter:job", number=number)
    return sent_back(request, number, {"release": form})


def _release(job: Job, form: ReleaseForm, by: Person) -> None:
    said = form.cleaned_data
    release(job, said["to"], by, timezone.now(), said["decided_by"], said["decision"])


@requires("change-jobs")
@require_POST
def hand_out_job(request: HttpRequest, number: str) -> HttpResponse:
    """Note to whom the analyzer went, and with what of its box."""
    job = job_named(number)
    form = HandOutForm(request.POST, job=job)
    if form.is_valid():
        said = form.cleaned_data
        goes_back, why = said.get("goes_back", []), said.get("why", "")
        try:
            hand_out(job, said["given_to"], goes_back, person_of(request), timezone.now(), why)
        except MoveRefusedError as error:
            if job.state != "to-return":
                return sent_back(request, number, {}, Refused("returned", f"{error}.", ""))
            form.add_error("why" if "why" in form.fields else None, f"{error}.")
            return sent_back(request, number, {"hand_out": form})
        return redirect("counter:job", number=number)
    return sent_back(request, number, {"hand_out": form})


@requires("change-jobs")
@require_POST
def note(request: HttpRequest, number: str) -> HttpResponse:
    """Keep a line in the job's log."""
    job, form = job_named(number), NoteForm(request.POST, auto_id="note_%s")
    if not form.is_valid():
        return sent_back(request, number, {"note": form})
    add_note(job, person_of(request), timezone.now(), form.cleaned_data["text"])
    return redirect("counter:job", number=number)
