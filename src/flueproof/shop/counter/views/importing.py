"""Taking in lists: the file, its columns, the dry run."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from flueproof.shop.counter.forms.importing import ChoicesForm, ColumnsForm, FileForm
from flueproof.shop.counter.presenters.importing import in_one_sentence, run_page
from flueproof.shop.counter.views.who import person_of
from flueproof.shop.records.importing.acting.built_upon import in_words, standing
from flueproof.shop.records.importing.errors import ImportRefusedError
from flueproof.shop.records.importing.runs import (
    change_understanding,
    choose_sheet,
    table_of,
    take_file,
    understanding_of_run,
)
from flueproof.shop.records.models import ImportRun
from flueproof.shop.records.people.rights import requires

_MOST_RUNS = 50


@requires("import")
@require_http_methods(["GET", "HEAD", "POST"])
def imports(request: HttpRequest) -> HttpResponse:
    """Show past imports and take the file of a new one."""
    form = FileForm(request.POST, request.FILES) if request.method == "POST" else FileForm()
    if form.is_bound and form.is_valid():
        file = form.cleaned_data["file"]
        try:
            run = take_file(file.read(), file.name or "", person_of(request), timezone.now())
        except ImportRefusedError as error:
            form.add_error("file", str(error))
        else:
            return redirect("counter:import-columns", pk=run.pk)
    runs = ImportRun.objects.select_related("by").defer("made")[:_MOST_RUNS]
    context = {"form": form, "runs": [(run, in_one_sentence(run) if run.found else "") for run in runs]}
    return render(request, "counter/imports.html", context, status=422 if form.is_bound else 200)


@requires("import")
@require_http_methods(["GET", "HEAD", "POST"])
def columns(request: HttpRequest, pk: int) -> HttpResponse:
    """Say which column is what; saving it does the dry run."""
    run = run_of(pk)
    if run.done_at is not None:
        return redirect("counter:import-run", pk=pk)
    try:
        if "sheet" in request.POST:
            choose_sheet(run, request.POST["sheet"])
            return redirect("counter:import-columns", pk=pk)
        table, told = table_of(run), understanding_of_run(run)
        form = ColumnsForm(request.POST if request.method == "POST" else None, table=table, told=told)
        if form.is_bound and form.is_valid():
            change_understanding(run, form.understanding(), person_of(request), timezone.now())
            return redirect("counter:import-run", pk=pk)
    except ImportRefusedError as error:
        return run_answer(request, run, str(error))
    context = {"run": run, "table": table, "form": form, "remembered": run.mapping.get("remembered")}
    return render(request, "counter/import_columns.html", context, status=422 if form.is_bound else 200)


@requires("import")
@require_safe
def import_run(request: HttpRequest, pk: int) -> HttpResponse:
    """Show what an import would do, or did."""
    run = run_of(pk)
    if not run.found:
        return redirect("counter:import-columns", pk=pk)
    return run_answer(request, run)


def run_of(pk: int) -> ImportRun:
    """Return an import with who began it. Raises: Http404."""
    return get_object_or_404(ImportRun.objects.select_related("by"), pk=pk)


def run_answer(request: HttpRequest, run: ImportRun, refused: str = "", *, rest: bool = False) -> HttpResponse:
    """Return the page of an import; refused: why what was asked is not done; rest: offer to take back the rest."""
    page = run_page(run)
    told = page.get("told")
    order = (told.date_order if told else "") or run.mapping.get("order_last_time", "")
    initial = {"date_order": order, "zeros_seen": bool(told and told.zeros_seen)}
    stays = in_words(run, standing(run)) if rest else []
    context = {**page, "choices": ChoicesForm(initial=initial), "refused": refused, "rest": rest, "standing": stays}
    return render(request, "counter/import_run.html", context, status=422 if refused else 200)
