"""The words of e-mails: every kind with the shop's own or the shipped words, changed with a preview."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.db import IntegrityError, transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.mail.forms.words import WordsForm
from flueproof.shop.mail.presenters.preview import preview as previewed
from flueproof.shop.mail.views.framed import framed
from flueproof.shop.mail.views.person import person_of
from flueproof.shop.records.keeping.history_lines import history_lines
from flueproof.shop.records.mailing.kinds import Kind, kinds, words_in_force
from flueproof.shop.records.mailing.words import LONGEST_SUBJECT, LONGEST_TEXT, wrong_with
from flueproof.shop.records.models import LetterTemplate
from flueproof.shop.records.people.rights import requires


@requires("change-letters")
@require_safe
def templates(request: HttpRequest) -> HttpResponse:
    """List the kinds of e-mail."""
    own = {row.kind: row for row in LetterTemplate.objects.all()}
    return render(request, "mail/templates.html", {"rows": [(kind, own.get(kind.name)) for kind in kinds().values()]})


@requires("change-letters")
@require_http_methods(["GET", "HEAD", "POST"])
def template(request: HttpRequest, kind: str) -> HttpResponse:
    """Change the words of a kind; two at once lose nothing."""
    shape = _kind(kind)
    form = WordsForm(request.POST or None, instance=_row(shape))
    if request.method == "POST" and form.is_valid() and _saved(form, request):
        messages.success(request, f"Saved. From now on “{shape.title}” goes out in these words.")
        return redirect("mail:template", kind)
    own = LetterTemplate.objects.filter(kind=kind).first()
    context = {"kind": shape, "form": form, "own": own, "history": history_lines(own) if own is not None else []}
    return render(request, "mail/template.html", context, status=422 if form.is_bound else 200)


@requires("change-letters")
@require_http_methods(["GET", "HEAD", "POST"])
def preview(request: HttpRequest, kind: str) -> HttpResponse:
    """Show an invented letter in the words that are typed, or in those in force."""
    shape = _kind(kind)
    subject, text = words_in_force(kind)
    if request.method == "POST":
        subject = request.POST.get("subject", "")[: LONGEST_SUBJECT * 2]
        text = request.POST.get("text", "")[: LONGEST_TEXT * 2].replace("\r\n", "\n")
    head, body, html = previewed(shape, subject, text, the_shop())
    wrong = [sentence for _, sentence in wrong_with(subject, text, shape.placeholders)]
    return framed(_with_frame(head, body, html, wrong))


@requires("change-letters")
@require_POST
def shipped(request: HttpRequest, kind: str) -> HttpResponse:
    """Go back to the shipped words; what stood there stays in the history."""
    shape = _kind(kind)
    with transaction.atomic():
        row = LetterTemplate.objects.select_for_update().filter(kind=kind).first()
        if row is not None:
            row._history_user = person_of(request)  # noqa: SLF001 -- the documented way of simple_history
            row.delete()
    messages.success(request, f"“{shape.title}” goes out in the shipped words again.")
    return redirect("mail:template", kind)


def _kind(name: str) -> Kind:
    """Return a kind. Raises: Http404."""
    found = kinds().get(name)
    if found is None:
        raise Http404("No such kind of e-mail.")
    return found


def _row(kind: Kind) -> LetterTemplate:
    """Return the shop's own words of a kind, or a row that is not saved yet with the shipped ones."""
    own: LetterTemplate | None = LetterTemplate.objects.filter(kind=kind.name).first()
    return own or LetterTemplate(kind=kind.name, subject=kind.subject, text=kind.text)


def _saved(form: WordsForm, request: HttpRequest) -> bool:
    if form.instance.pk is None and form.cleaned_data["seen_version"]:
        form.add_error(None, "Somebody went back to the shipped words meanwhile. Yours are still here: save again.")
        typed: Any = form.data
        form.data = typed.copy() | {"seen_version": "0"}
        return False
    try:
        with transaction.atomic():
            return form.save_seen(person_of(request)) is not None
    except IntegrityError:
        form.add_error(None, "Somebody saved words of their own at the same moment. Load the page to see them.")
        return False


def _with_frame(subject: str, text: str, html: str, wrong: list[str]) -> str:
    """Return the letter with subject, plain text and what is wrong around it, in the letter's own style sheet."""
    facts = {"subject": subject, "text": text, "wrong": wrong}
    before = render_to_string("mail/preview_before.html", facts)
    after = render_to_string("mail/preview_after.html", facts)
    return html.replace("<body>", f"<body>{before}", 1).replace("</body>", f"{after}</body>", 1)
