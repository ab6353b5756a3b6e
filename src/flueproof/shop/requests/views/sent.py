"""A request is sent, confirmed by the link in its e-mail, its slip printed, or it is given up."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.papers.box_slip.slip import box_slip_pdf
from flueproof.shop.frame.door.throttle import throttled
from flueproof.shop.frame.the_shop import the_shop
from flueproof.shop.records.intake.asking.drafts import RequestRefusedError
from flueproof.shop.records.intake.asking.letters import ask_to_confirm, close_links, mail_draft_link, tell_received
from flueproof.shop.records.intake.requests import confirm_request, send_request, withdraw_request
from flueproof.shop.records.mailing.links import use_link
from flueproof.shop.records.models import AnswerLink, ServiceRequest
from flueproof.shop.records.people.rights import public
from flueproof.shop.requests.presenters.path import name_of
from flueproof.shop.requests.presenters.summary import destination, said_of, slips_of, who_facts
from flueproof.shop.requests.views.opening import by_secret, open_shop, request_of, shut, whole

_SLIP_STATES = ("confirmed", "taken")


@public
@open_shop
@require_safe
@by_secret(["resume"])
def resume(_request: HttpRequest, secret: str, link: AnswerLink, _state: str) -> HttpResponse:
    """Go on where the draft was left, on any device."""
    row = request_of(link)
    if row.state != "draft":
        return redirect("requests:sent", secret)
    return redirect("requests:step", secret, name_of(row.step))


@public
@open_shop
@throttled("service-request-send", 12, 60)
@require_POST
@by_secret(["resume"])
def send(request: HttpRequest, secret: str, link: AnswerLink, _state: str) -> HttpResponse:
    """Send a draft and its e-mail to confirm; pressed again it does nothing more."""
    now, row = timezone.now(), request_of(link)
    try:
        with transaction.atomic():
            fresh = row.state == "draft"
            sent = send_request(row, now, None)
            if fresh:
                ask_to_confirm(sent, request.build_absolute_uri, now)
    except RequestRefusedError as refused:
        messages.error(request, f"{refused}.")
        return redirect("requests:step", secret, "check")
    return redirect("requests:sent", secret)


@public
@require_safe
@by_secret(["resume"])
def sent(request: HttpRequest, secret: str, link: AnswerLink, _state: str) -> HttpResponse:
    """Say where the request stands and what comes next."""
    row = request_of(link)
    if row.state == "draft":
        return redirect("requests:step", secret, name_of(row.step))
    return _standing(request, row, secret)


@public
@throttled("service-request-mail", 12, 60)
@require_POST
@by_secret(["resume", "confirm"], ["good", "late"])
def mail_again(request: HttpRequest, secret: str, link: AnswerLink, state: str) -> HttpResponse:
    """Send the link once more: of a draft the one to go on, of a sent request a fresh one to confirm."""
    now, row = timezone.now(), request_of(link)
    if state == "late" and link.purpose == "resume":
        return shut(request, "late")
    try:
        if row.state == "draft" and link.purpose == "resume":
            mail_draft_link(row, whole(request, reverse("requests:resume", args=[secret])), now)
        else:
            ask_to_confirm(row, request.build_absolute_uri, now)
        messages.success(request, f"The e-mail is on its way to {row.email}.")
    except RequestRefusedError as refused:
        messages.error(request, f"{refused}.")
    if link.purpose == "confirm":
        return render(request, "requests/mailed.html", {"request_row": row})
    return redirect("requests:resume", secret)


@public
@throttled("service-request-confirm", 30, 60)
@require_http_methods(["GET", "HEAD", "POST"])
@by_secret(["confirm"], ["good", "used", "late", "withdrawn"])
def confirm(request: HttpRequest, secret: str, link: AnswerLink, state: str) -> HttpResponse:
    """Confirm by a press, not by opening: mail scanners open links. Used, late and newer links say what to do."""
    row = request_of(link)
    if row.state == "withdrawn":
        return shut(request, "withdrawn")
    if request.method == "POST" and state == "good":
        now = timezone.now()
        try:
            with transaction.atomic():
                if use_link(link, now):
                    tell_received(confirm_request(row, now), now)
        except RequestRefusedError as refused:
            messages.error(request, f"{refused}.")
        return redirect("requests:confirm", secret)
    if row.state in _SLIP_STATES:
        return _standing(request, row, secret, again=state == "used")
    context = {
        "request_row": row,
        "secret": secret,
        "state": state,
        "who": who_facts(row),
        "analyzers": said_of(row, the_shop().currency),
    }
    return render(request, "requests/confirm.html", context, status=200 if state == "good" else 410)


@public
@throttled("service-request-slip", 60, 60, ("GET", "HEAD"))
@require_safe
@by_secret(["resume", "confirm"], ["good", "used"])
def slip(request: HttpRequest, _secret: str, link: AnswerLink, _state: str) -> HttpResponse:
    """Hand out the box slips of a confirmed request as PDF; ?paper=a4 or letter."""
    row = request_of(link)
    return slip_file(row, request.GET.get("paper", "")) if row.state in _SLIP_STATES else shut(request, "not-yet")


def slip_file(row: ServiceRequest, paper: str) -> HttpResponse:
    """Return the box slips of a request as an answer of the browser's own viewer."""
    shop = the_shop()
    pdf = box_slip_pdf(slips_of(row, shop), destination(shop, paper, timezone.localdate()))
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="box-slip-{row.code}.pdf"'
    answer["Cache-Control"] = "no-store"
    return answer


@public
@throttled("service-request-send", 12, 60)
@require_POST
@by_secret(["resume"])
def give_up(request: HttpRequest, secret: str, link: AnswerLink, _state: str) -> HttpResponse:
    """Withdraw a draft or a request that is no job yet; all its links open nothing more."""
    now, row = timezone.now(), request_of(link)
    try:
        with transaction.atomic():
            withdraw_request(row, "by its owner", None)
            close_links(row, now)
    except RequestRefusedError as refused:
        messages.error(request, f"{refused}.")
        return redirect("requests:sent", secret)
    return render(request, "requests/shut.html", {"state": "given-up"})


def _standing(request: HttpRequest, row: ServiceRequest, secret: str, *, again: bool = False) -> HttpResponse:
    context = {
        "request_row": row,
        "secret": secret,
        "again": again,
        "confirmed": row.state in _SLIP_STATES,
        "who": who_facts(row),
        "analyzers": said_of(row, the_shop().currency),
    }
    return render(request, "requests/standing.html", context)
