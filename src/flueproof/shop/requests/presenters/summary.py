"""A request in words: for the page that checks it, for the counter, for the box slip."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any, Final

from flueproof.papers.box_slip.packing_list import packing_list
from flueproof.papers.box_slip.slip import BoxSlip, Destination
from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.frame.presenters.tag import make_and_model
from flueproof.shop.records.intake.slips import slip_address
from flueproof.shop.records.keeping.field_words import gas_in_words
from flueproof.shop.records.models import RequestedAnalyzer, ServiceRequest, Shop

SERVICE_WORDS: Final = {
    "verify": "Verify, change nothing",
    "verify-adjust": "Verify, adjust if needed",
    "repair": "Repair",
    "call-first": "Call before anything is changed",
}
RULE_WORDS: Final = {
    "risk-2": "at most 2 % false accepts (usual)",
    "simple": "the reading alone decides",
    "guarded-U": "inside by the whole uncertainty",
    "specific-2": "at most 2 % risk at each point",
}
_ACCIDENTS: Final = dict(RequestedAnalyzer.ACCIDENTS)


@dataclass(frozen=True, slots=True)
class Said:
    """One analyzer of a request in words; facts: (label, value) pairs, empty ones left out."""

    row: RequestedAnalyzer
    title: str
    facts: list[tuple[str, str]]


def said_of(request: ServiceRequest, currency: str) -> list[Said]:
    """Return each analyzer of a request in words."""
    return [Said(one, title_of(one), _facts(one, currency)) for one in request.analyzers.select_related("job")]


def title_of(one: RequestedAnalyzer) -> str:
    """Return make and model, the make once; "Analyzer" where nothing was typed yet."""
    return make_and_model(one) or "Analyzer"  # type: ignore[arg-type] # it has a make and a model like an analyzer


def who_facts(request: ServiceRequest) -> list[tuple[str, str]]:
    """Return who asks and where it goes back, as (label, value) pairs."""
    address = ", ".join(request.address_lines())
    found = [
        ("Firm", request.firm),
        ("Name", request.contact),
        ("Phone", request.phone),
        ("E-mail", request.email),
        ("Goes back to", address),
        ("How", request.carrier),
        ("Needed by", day_text(request.needed_by) if request.needed_by else ""),
        ("Order number", request.purchase_order),
        ("Else", request.note),
    ]
    return [(label, value) for label, value in found if value]


def wants_of(one: RequestedAnalyzer, currency: str) -> list[str]:
    """Return what is wanted, line by line, short enough for the slip."""
    service = SERVICE_WORDS[one.service]
    if one.service == "repair" and one.spend_up_to is not None:
        service = f"Repair up to {one.spend_up_to:,.2f} {currency}"
    may = [
        words
        for allowed, words in (
            (one.may_set_clock, "set the clock"),
            (one.may_update_firmware, "update the firmware"),
            (one.may_clear_memory, "delete stored measurements"),
        )
        if allowed
    ]
    return [
        service,
        "As-found values wanted" if one.as_found else "As-found values not wanted",
        f"Limits: {limits_in_words(one.limits)}",
        f"Rule: {RULE_WORDS[one.decision_rule]}",
        f"May: {', '.join(may)}" if may else "May not: set clock, update, delete",
        f"Due date wanted, every {one.due_months} months" if one.due_wanted else "No due date wanted",
    ]


def limits_in_words(limits: Any) -> str:
    """Return whose limits hold: "usual", or the owner's own ones by channel."""
    if not isinstance(limits, dict):
        return "usual"
    parts = []
    for channel, limit in limits.items():
        amount = f"±{limit['absolute']:g} {limit['unit']}" if "absolute" in limit else ""
        share = f"±{limit['percent']:g} %" if "percent" in limit else ""
        parts.append(f"{gas_in_words(channel)} {' or '.join(part for part in (amount, share) if part)}")
    return "own, " + ", ".join(parts)


def slips_of(request: ServiceRequest, shop: Shop) -> list[BoxSlip]:
    """Return the box slips of a request, one an analyzer."""
    rows = list(request.analyzers.order_by("id"))
    return [_slip(one, request, shop, place, len(rows)) for place, one in enumerate(rows, 1)]


def destination(shop: Shop, paper: str, day: dt.date) -> Destination:
    """Return where the boxes go, on the paper that was asked for, else on the shop's."""
    chosen = paper if paper in dict(Shop.PAPERS) else shop.paper_size
    return Destination(shop.name, list(shop.address), shop.phone, shop.email, chosen, day)


def _slip(one: RequestedAnalyzer, request: ServiceRequest, shop: Shop, place: int, places: int) -> BoxSlip:
    own = f", your number {one.own_number}" if one.own_number else ""
    return BoxSlip(
        code=one.slip,
        scanned=slip_address(one.slip, shop),
        request=request.code,
        serial=one.serial,
        item=f"{title_of(one)}{own}",
        owner=request.firm or request.contact,
        contact=", ".join(part for part in (request.contact if request.firm else "", request.phone) if part),
        complaint=one.complaint,
        wants=wants_of(one, shop.currency),
        enclosed=list(one.enclosed),
        place=place,
        places=places,
        needed_by=request.needed_by,
        happened="; ".join(part for part in (_accidents(one), one.used_on and f"last used on {one.used_on}") if part),
    )


def _accidents(one: RequestedAnalyzer) -> str:
    return ", ".join(_ACCIDENTS.get(name, name) for name in one.accidents)


def _facts(one: RequestedAnalyzer, currency: str) -> list[tuple[str, str]]:
    words = {thing.name: thing.words for thing in packing_list()}
    found = [
        ("Serial", one.serial or "to be read off the plate"),
        ("Own number", one.own_number),
        ("Complaint", one.complaint),
        ("Last used on", one.used_on),
        ("What happened", _accidents(one)),
        ("Wanted", "\n".join(wants_of(one, currency))),
        ("In the box", ", ".join(words.get(name, name) for name in one.enclosed) or "not said"),
    ]
    return [(label, value) for label, value in found if value]
