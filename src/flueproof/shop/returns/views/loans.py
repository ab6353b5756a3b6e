"""The loan pool: which units there are, lending one, taking it back, reminding."""

from __future__ import annotations

from typing import Any, Final

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from flueproof.papers.box_slip.packing_list import caution_words
from flueproof.shop.records.gas.admitting import find_by_code
from flueproof.shop.records.gas.control import certificate_says
from flueproof.shop.records.loans.gas_check import GasCheckError, bottles_for, channels_on, check_and_book, in_words
from flueproof.shop.records.loans.loan import (
    Lending,
    LoanError,
    lend,
    lengthen,
    remind,
    running_loan,
    set_usable,
    take_back,
    to_remind,
)
from flueproof.shop.records.loans.pool import add_unit, pool, stands
from flueproof.shop.records.loans.traveling import address_of, box_of, send_unit
from flueproof.shop.records.mailing.facts import day_words
from flueproof.shop.records.models import Job, Loan, LoanUnit, Reference
from flueproof.shop.records.people.rights import requires
from flueproof.shop.records.returning.shipping import said_of
from flueproof.shop.returns.at_work import person_of
from flueproof.shop.returns.forms.leaving import ShipForm
from flueproof.shop.returns.forms.loans import GasForm, LendForm, ReturnForm, UnitForm, UntilForm

_ASKED: Final = ["GET", "HEAD", "POST"]
_SHOWN: Final = 12


@requires("see-jobs")
@require_safe
def loans(request: HttpRequest) -> HttpResponse:
    """Show the units and where each is."""
    today = timezone.localdate()
    context = {"units": pool(today), "to_remind": len(to_remind(timezone.now(), today))}
    return render(request, "returns/loans.html", context)


@requires("lend")
@require_http_methods(_ASKED)
def new_unit(request: HttpRequest) -> HttpResponse:
    """Take an analyzer of the shop's own into the pool."""
    form = UnitForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        said = form.cleaned_data
        try:
            made = add_unit(said["serial"], said["name"], form.parts(), said["note"], person_of(request))
        except LoanError as error:
            form.add_error("name", str(error))
        else:
            return redirect("returns:unit", made.pk)
    return render(request, "returns/unit_new.html", {"form": form}, status=422 if form.is_bound else 200)


@requires("see-jobs")
@require_safe
def unit(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a unit: where it is, what can be done now, who had it."""
    return _shown(request, _unit(pk), None)


@requires("lend")
@require_POST
def lend_unit(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a unit out, checked on gas."""
    row = _unit(pk)
    form = LendForm(request.POST, channels=_channels(row, _bottle(request, row)))
    if form.is_valid():
        said = form.cleaned_data
        try:
            gas = check_and_book(row, said["bottle"], form.typed(), timezone.now())
            wanted = Lending(said["owner"], said["until"], gas, said["given_to"], said["job"])
            lend(row, wanted, person_of(request), timezone.now(), timezone.localdate())
        except GasCheckError as error:
            form.refuse(error.field, str(error))
        except LoanError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{row} is lent to {said['owner']} until {day_words(said['until'])}.")
            return redirect("returns:unit", pk)
    return _shown(request, row, form)


@requires("lend")
@require_POST
def unit_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a unit back."""
    row = _unit(pk)
    loan = running_loan(row)
    if loan is None:
        messages.info(request, f"{row} is back already.")
        return redirect("returns:unit", pk)
    form = ReturnForm(request.POST, channels=_channels(row, _bottle(request, row)))
    if form.is_valid():
        said = form.cleaned_data
        try:
            gas = {} if said["unchecked"] else check_and_book(row, said["bottle"], form.typed(), timezone.now())
            take_back(loan, said["condition"], gas, person_of(request), timezone.now())
        except GasCheckError as error:
            form.refuse(error.field, str(error))
        except LoanError as error:
            form.add_error(None, str(error))
        else:
            row.refresh_from_db()
            told = f"{row} is back" + ("." if row.usable else ", and is not lent before it is in order on gas.")
            messages.success(request, told)
            return redirect("returns:unit", pk)
    return _shown(request, row, form)


@requires("lend")
@require_POST
def unit_checked(request: HttpRequest, pk: int) -> HttpResponse:
    """Let a unit be lent again, by a check on gas."""
    row = _unit(pk)
    form = GasForm(request.POST, channels=_channels(row, _bottle(request, row)))
    if form.is_valid():
        try:
            gas = check_and_book(row, form.cleaned_data["bottle"], form.typed(), timezone.now())
            set_usable(row, gas, person_of(request))
        except GasCheckError as error:
            form.refuse(error.field, str(error))
        except LoanError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{row} can be lent again.")
            return redirect("returns:unit", pk)
    return _shown(request, row, form)


@requires("lend")
@require_POST
def longer(request: HttpRequest, pk: int) -> HttpResponse:
    """Let a loan run until another day."""
    loan = _loan(pk)
    form = UntilForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Choose the day to be back on.")
        return redirect("returns:unit", loan.unit_id)
    try:
        lengthen(loan, form.cleaned_data["until"], person_of(request), timezone.localdate())
    except LoanError as error:
        messages.error(request, str(error))
    else:
        messages.success(request, f"{loan.unit} is to be back on {day_words(form.cleaned_data['until'])}.")
    return redirect("returns:unit", loan.unit_id)


@requires("ship")
@require_POST
def ship_unit(request: HttpRequest, pk: int) -> HttpResponse:
    """Write down carrier and number of a unit that leaves by mail."""
    loan = _loan(pk)
    form = ShipForm(request.POST, auto_id="ship_%s")
    if form.is_valid():
        try:
            box = send_unit(loan, form.parcel(), person_of(request), timezone.now())
        except LoanError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{loan.unit} is on its way: {said_of(box)}.")
            return redirect("returns:unit", loan.unit_id)
    return _shown(request, _unit(loan.unit_id), None, form)


@requires("send-letters")
@require_POST
def remind_one(request: HttpRequest, pk: int) -> HttpResponse:
    """Remind whoever has a unit."""
    loan = _loan(pk)
    if remind(loan, person_of(request), timezone.now()):
        messages.success(request, f"{loan.unit}: the owner is reminded.")
    else:
        messages.info(request, f"{loan.unit}: no e-mail went out; it was told lately, or there is no address. Call.")
    return redirect("returns:unit", loan.unit_id)


@requires("send-letters")
@require_POST
def remind_all(request: HttpRequest) -> HttpResponse:
    """Remind everybody whose day is over."""
    now = timezone.now()
    told = sum(remind(one, person_of(request), now) for one in to_remind(now, timezone.localdate()))
    messages.success(request, f"{told} e-mail{'' if told == 1 else 's'} written.")
    return redirect("returns:loans")


def _shown(request: HttpRequest, row: LoanUnit, form: Any, to_ship: ShipForm | None = None) -> HttpResponse:
    now, today = timezone.now(), timezone.localdate()
    here = stands(row, today)
    bottle = _bottle(request, row)
    context = {
        "stands": here,
        "unit": row,
        "form": form or _fresh(request, row, bottle),
        "bottle": bottle,
        "bottles": bottles_for(row, now) if here.loan is None or bottle else [],
        "says": [(one.title, certificate_says(bottle, one)) for one in _channels(row, bottle)] if bottle else [],
        "past": [(one, in_words(one.gas_out), in_words(one.gas_back)) for one in _past(row)],
        "until": UntilForm(initial={"until": here.loan.until}) if here.loan else None,
        "gas_out": in_words(here.loan.gas_out) if here.loan else "",
        "box": box_of(here.loan) if here.loan else None,
        "batteries": caution_words("batteries"),
        "to_ship": to_ship or _ship_form(here.loan),
    }
    return render(request, "returns/unit.html", context, status=422 if form or to_ship else 200)


def _ship_form(loan: Loan | None) -> ShipForm | None:
    return ShipForm(auto_id="ship_%s", initial={"address": address_of(loan)}) if loan is not None else None


def _fresh(request: HttpRequest, row: LoanUnit, bottle: Reference | None) -> GasForm:
    channels, first = _channels(row, bottle), {"bottle": bottle.code if bottle else ""}
    if running_loan(row) is not None:
        return ReturnForm(channels=channels, initial=first)
    if not row.usable:
        return GasForm(channels=channels, initial=first)
    job = Job.objects.select_related("owner").filter(number=request.GET.get("job", "")).first()
    if job is not None:
        first |= {"job": job.number, "owner": job.owner.name}
    return LendForm(channels=channels, initial=first)


def _past(row: LoanUnit) -> list[Loan]:
    return list(row.loans.exclude(back_at=None).select_related("owner", "job").order_by("-id")[:_SHOWN])


def _bottle(request: HttpRequest, row: LoanUnit) -> Reference | None:
    """Return the bottle that was chosen, else the first that fits."""
    code = request.POST.get("bottle", "") or request.GET.get("bottle", "")
    chosen = find_by_code(code) if code else None
    return chosen or next(iter(bottles_for(row, timezone.now())), None)


def _channels(row: LoanUnit, bottle: Reference | None) -> list[Any]:
    return list(channels_on(row, bottle)) if bottle is not None else []


def _unit(pk: int) -> LoanUnit:
    found: LoanUnit = get_object_or_404(LoanUnit.objects.select_related("analyzer"), pk=pk)
    return found


def _loan(pk: int) -> Loan:
    found: Loan = get_object_or_404(Loan.objects.select_related("unit"), pk=pk)
    return found
