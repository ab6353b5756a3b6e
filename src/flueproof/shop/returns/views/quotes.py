"""Quotes: written from the list, looked at and printed, sent, decided on the phone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.models import Job, PriceItem, Quote
from flueproof.shop.records.money.amounts import in_words, line_sum
from flueproof.shop.records.money.prices import as_lines, for_job, suggested
from flueproof.shop.records.money.quotes import approve, decline, let_pass, passes, remind, send_quote
from flueproof.shop.records.money.quoting import QuoteError, Wanted, change_quote, is_late, total_in_words, write_quote
from flueproof.shop.records.people.rights import requires
from flueproof.shop.returns.at_work import job_named, person_of
from flueproof.shop.returns.forms.quotes import EMPTY_ROWS, DecisionForm, Row, rows_from, rows_of

_ASKED: Final = ["GET", "HEAD", "POST"]


@requires("quote")
@require_http_methods(_ASKED)
def new(request: HttpRequest, number: str) -> HttpResponse:
    """Write a quote for a job; lines come from the price list or are typed."""
    job = job_named(number)
    if request.method != "POST":
        return _form(request, job, rows_from(as_lines(suggested(job))), job.complaint and f"Complaint: {job.complaint}")
    return _written(request, job, None, lambda *what: write_quote(job, *what))


@requires("quote")
@require_http_methods(_ASKED)
def change(request: HttpRequest, number: str) -> HttpResponse:
    """Change a quote: a draft itself; one that was sent is replaced by a new one."""
    quote = _quote(number)
    if request.method != "POST":
        lines = [Wanted(one.words, one.price, one.count, one.item) for one in quote.lines.select_related("item")]
        return _form(request, quote.job, rows_from(lines), quote.words, quote)
    return _written(request, quote.job, quote, lambda *what: change_quote(quote, *what))


def _written(request: HttpRequest, job: Job, quote: Quote | None, write: Callable[..., Quote]) -> HttpResponse:
    rows, words = rows_of(request.POST), request.POST.get("about", "")[:4000]
    added = request.POST.get("add", "")
    if added.isdecimal() and len(added) < 18:
        rows += rows_from(as_lines(PriceItem.objects.filter(pk=int(added), in_use=True)))
        return _form(request, job, rows, words, quote)
    lines = [row.read() for row in rows]
    if any(row.wrong for row in rows):
        return _form(request, job, rows, words, quote, wrong="Some lines cannot be read; each says why.")
    try:
        made = write([one for one in lines if one is not None], words, person_of(request), timezone.now())
    except QuoteError as error:
        return _form(request, job, rows, words, quote, wrong=str(error))
    return redirect("returns:quote", made.number)


def _form(
    request: HttpRequest, job: Job, rows: list[Row], words: str, quote: Quote | None = None, wrong: str = ""
) -> HttpResponse:
    context = {
        "job": job,
        "quote": quote,
        "rows": [*rows, *(Row() for _ in range(EMPTY_ROWS))],
        "about": words,
        "items": [(one, in_words(one.price, the_shop().currency)) for one in for_job(job)],
        "currency": the_shop().currency,
        "wrong": wrong,
    }
    return render(request, "returns/quote_form.html", context, status=422 if wrong else 200)


@requires("see-jobs")
@require_safe
def quote(request: HttpRequest, number: str) -> HttpResponse:
    """Show a quote as it is read by the owner, printable, with what can be done with it now."""
    return _shown(request, _quote(number), DecisionForm())


def _shown(request: HttpRequest, row: Quote, form: Any, wrong: str = "") -> HttpResponse:
    lines = [
        (one, in_words(one.price, row.currency), in_words(line_sum(one.count, one.price), row.currency))
        for one in row.lines.all()
    ]
    context = {
        "quote": row,
        "job": row.job,
        "lines": lines,
        "total": total_in_words(row),
        "passes": row.state == "draft" and passes(row),
        "agreed": in_words(row.job.spend_up_to, row.currency) if row.job.spend_up_to is not None else "",
        "late": row.state == "sent" and is_late(row, timezone.now()),
        "newer": row.replaced_by.order_by("-id").first(),
        "letters": row.job.letters.filter(kind="quote").order_by("-id")[:3],
        "form": form,
        "wrong": wrong,
    }
    return render(request, "returns/quote.html", context, status=422 if wrong or form.errors else 200)


@requires("quote")
@require_POST
def send(request: HttpRequest, number: str) -> HttpResponse:
    """Send a quote; where there is no address, say that it has to be read on the phone."""
    row = _quote(number)
    before = row.job.letters.count()
    try:
        sent = send_quote(row, person_of(request), timezone.now())
    except QuoteError as error:
        return _shown(request, row, DecisionForm(), str(error))
    if sent.job.letters.count() > before:
        messages.success(request, f"{number} is sent.")
    else:
        messages.info(request, f"{number} is out, but no e-mail went with it: read it on the phone, or print it.")
    return redirect("returns:quote", number)


@requires("quote")
@require_POST
def pass_small(request: HttpRequest, number: str) -> HttpResponse:
    """Let a small quote pass that the order already allows."""
    row = _quote(number)
    try:
        let_pass(row, person_of(request), timezone.now())
    except QuoteError as error:
        return _shown(request, row, DecisionForm(), str(error))
    return redirect("returns:quote", number)


@requires("quote")
@require_POST
def remind_owner(request: HttpRequest, number: str) -> HttpResponse:
    """Write once more about a quote that nobody answered."""
    if remind(_quote(number), person_of(request), timezone.now()):
        messages.success(request, f"{number}: the owner is reminded.")
    else:
        messages.info(request, f"{number}: no e-mail went out; it is answered, over, told today, or has no address.")
    return redirect("returns:quote", number)


@requires("quote")
@require_POST
def decide(request: HttpRequest, number: str) -> HttpResponse:
    """Keep what the owner said on the phone."""
    row, form = _quote(number), DecisionForm(request.POST)
    if not form.is_valid():
        return _shown(request, row, form)
    said = form.cleaned_data
    act = approve if said["decision"] == "approve" else decline
    try:
        act(row, said["decided_by"], said["words"], timezone.now(), person_of(request))
    except QuoteError as error:
        stands = _quote(number)
        if stands.state not in {"sent", "expired"}:  # the form is gone: the refusal stands above
            return _shown(request, stands, form, str(error))
        form.add_error(None, str(error))
        return _shown(request, stands, form)
    return redirect("returns:quote", number)


def _quote(number: str) -> Quote:
    rows = Quote.objects.select_related("job__owner", "job__analyzer", "replaces")
    found: Quote = get_object_or_404(rows, number=number.replace("\0", ""))
    return found
