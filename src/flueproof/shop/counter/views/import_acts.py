"""What is done to an import: the choices before it, doing it, undoing it, the list of its problems."""

from __future__ import annotations

from pathlib import PurePath

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from flueproof.shop.counter.forms.importing import ChoicesForm
from flueproof.shop.counter.presenters.importing import made_in_words
from flueproof.shop.counter.views.importing import run_answer, run_of
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.records.importing.acting.doing import do_import
from flueproof.shop.records.importing.acting.undoing import undo_import
from flueproof.shop.records.importing.errors import BuiltUponError, ImportRefusedError
from flueproof.shop.records.importing.problems import problems_of
from flueproof.shop.records.importing.runs import change_understanding, understanding_of_run
from flueproof.shop.records.people.rights import requires


@requires("import")
@require_POST
def choose(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the order of dates, the word on lost zeros, the analyzers that are others; look at the list anew."""
    run = run_of(pk)
    listed = run.found.get("listed", {}).get("lookalike", [])
    form = ChoicesForm(request.POST, rows=[row["row"] for row in listed])
    if not form.is_valid():
        return run_answer(request, run, "This page sent a choice that we do not know. Load it again.")
    try:
        told = form.understanding(understanding_of_run(run))
        change_understanding(run, told, person_of(request), timezone.now())
    except ImportRefusedError as error:
        return run_answer(request, run, str(error))
    return redirect("counter:import-run", pk=pk)


@requires("import")
@require_POST
def do(request: HttpRequest, pk: int) -> HttpResponse:
    """Import what the dry run found; pressed twice it is done once."""
    run = run_of(pk)
    try:
        done = do_import(run, person_of(request), timezone.now())
    except ImportRefusedError as error:
        return run_answer(request, run_of(pk), str(error))
    messages.success(request, f"Imported: {made_in_words(done.found)}.")
    return redirect("counter:import-run", pk=pk)


@requires("import")
@require_POST
def undo(request: HttpRequest, pk: int) -> HttpResponse:
    """Take back what an import made; what is in use stays only when that was chosen."""
    run = run_of(pk)
    try:
        undo_import(run, person_of(request), timezone.now(), leave_used=request.POST.get("rest") == "yes")
    except BuiltUponError as error:
        return run_answer(request, run_of(pk), str(error), rest=True)
    except ImportRefusedError as error:
        return run_answer(request, run_of(pk), str(error))
    messages.success(request, "Taken back.")
    return redirect("counter:import-run", pk=pk)


@requires("import")
@require_safe
def problems(request: HttpRequest, pk: int) -> HttpResponse:
    """Give the rows with something to tell as a text file."""
    run = run_of(pk)
    try:
        content = problems_of(run)
    except ImportRefusedError as error:
        return run_answer(request, run, str(error))
    name = "".join(
        sign if (sign.isascii() and sign.isalnum()) or sign in "-_" else "-" for sign in PurePath(run.file_name).stem
    )[:60]
    headers = {"Content-Disposition": f'attachment; filename="{name or "list"}-problems.csv"'}
    return HttpResponse(content, content_type="text/csv; charset=utf-8", headers=headers)
