"""What a link in an e-mail opens: a question, a quote, where a job stands. Looking changes nothing."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from flueproof.shop.frame.door.throttle import throttled
from flueproof.shop.mail.forms.answering import AnswerForm, DecisionForm
from flueproof.shop.mail.presenters.closed import closed
from flueproof.shop.mail.presenters.following import following
from flueproof.shop.mail.presenters.quote import quote_lines
from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.keeping.photos import PhotoError, small_jpeg
from flueproof.shop.records.mailing.facts import analyzer_words
from flueproof.shop.records.mailing.links import Opened, open_link, use_link
from flueproof.shop.records.mailing.questions import QuestionClosedError
from flueproof.shop.records.mailing.questions import answer as keep_answer
from flueproof.shop.records.models import AnswerLink, Job, OwnerQuestion, Quote
from flueproof.shop.records.money.quotes import approve, decline
from flueproof.shop.records.money.quoting import QuoteError, total_in_words
from flueproof.shop.records.people.rights import public


@public
@throttled("answer", 120, 10, ("GET", "HEAD", "POST"))
@require_http_methods(["GET", "HEAD", "POST"])
def answer(request: HttpRequest, secret: str) -> HttpResponse:
    """Show what a link opens; only a POST acts, since mail scanners open every address they see."""
    opened = open_link(secret, timezone.now())
    link = opened.link
    if link is not None and link.purpose in {"confirm", "resume"}:
        return redirect(f"requests:{link.purpose}", secret)
    if link is None or opened.state != "good":
        return _closed(request, opened)
    if link.question is not None:
        return _question(request, link, link.question)
    if link.quote is not None:
        return _quote(request, link, link.quote)
    if link.job is not None and request.method != "POST":
        return _page(request, "follow.html", {"it": following(_job(link.job), timezone.now())})
    return _closed(request, Opened(None, "unknown"))


def _question(request: HttpRequest, link: AnswerLink, question: OwnerQuestion) -> HttpResponse:
    form = AnswerForm(request.POST if request.method == "POST" else None, request.FILES or None, question=question)
    if request.method == "POST" and form.is_valid():
        try:
            done = _kept(link, question, form)
        except PhotoError as error:
            form.add_error("photo", str(error))
        else:
            return redirect(request.path) if done else _closed(request, _again(link))
    job = _job(question.job)
    context = {"form": form, "question": question, "job": job, "analyzer": _analyzer(job)}
    return _page(request, "question.html", context, 422 if form.errors else 200)


def _kept(link: AnswerLink, question: OwnerQuestion, form: AnswerForm) -> bool:
    """Keep the answer and return True; False when another one was first. Raises: PhotoError, with nothing written."""
    given, now = form.cleaned_data, timezone.now()
    picture = small_jpeg(given["photo"].read()) if given["photo"] else b""
    try:
        with transaction.atomic():
            if not use_link(link, now):
                return False
            photos = [keep_blob(picture, "image/jpeg", now)] if picture else []
            keep_answer(question, form.text(), given["name"], None, now, photos)
    except QuestionClosedError:
        return False
    return True


def _quote(request: HttpRequest, link: AnswerLink, quote: Quote) -> HttpResponse:
    if quote.state != "sent":
        return _closed(request, Opened(link, "withdrawn"))
    form = DecisionForm(request.POST if request.method == "POST" else None)
    refused = ""
    if request.method == "POST" and form.is_valid():
        try:
            done = _decided(link, quote, form.cleaned_data)
        except QuoteError as error:
            refused = str(error)
        else:
            return redirect(request.path) if done else _closed(request, _again(link))
    job = _job(quote.job)
    context = {
        "form": form,
        "quote": quote,
        "job": job,
        "analyzer": _analyzer(job),
        "lines": quote_lines(quote),
        "total": total_in_words(quote),
        "refused": refused,
    }
    return _page(request, "quote.html", context, 422 if form.errors or refused else 200)


def _decided(link: AnswerLink, quote: Quote, given: dict[str, Any]) -> bool:
    """Approve or decline and return True; False when the link is used up. Raises: QuoteError, with nothing written."""
    decide, now = (approve if given["decision"] == "approve" else decline), timezone.now()
    with transaction.atomic():
        if not use_link(link, now):
            return False
        decide(quote, given["name"], given["words"], now)
    return True


def _job(job: Job) -> Job:
    found: Job = Job.objects.select_related("analyzer", "owner").get(pk=job.pk)
    return found


def _analyzer(job: Job) -> str:
    return analyzer_words(job.analyzer.make, job.analyzer.model, job.analyzer.serial)


def _again(link: AnswerLink) -> Opened:
    """Return the link as it is now, after another one was first."""
    fresh = AnswerLink.objects.select_related("question", "quote").get(pk=link.pk)
    return Opened(fresh, "used" if fresh.used_at is not None else "withdrawn")


def _closed(request: HttpRequest, opened: Opened) -> HttpResponse:
    told = closed(opened)
    return _page(request, "closed.html", {"told": told}, told.status)


def _page(request: HttpRequest, template: str, context: dict[str, Any], status: int = 200) -> HttpResponse:
    """Return a page of a link: kept by no cache and found by no search; its address goes to no other host anyway."""
    page = render(request, f"mail/{template}", context, status=status)
    page["Cache-Control"] = "no-store"
    page["X-Robots-Tag"] = "noindex"
    return page
