"""One who was never here: the owner on file or the request behind it, and what is known of the analyzer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flueproof.shop.records.intake.asking.on_file import owner_now
from flueproof.shop.records.models import Arrival, Owner, RequestedAnalyzer, ServiceRequest


@dataclass(frozen=True, slots=True)
class Newcomer:
    """owner: on file already; requested: its own line of a request; initial: what the form begins with."""

    owner: Owner | None
    requested: RequestedAnalyzer | None
    request: ServiceRequest | None
    initial: dict[str, str]


def newcomer_of(asked: Mapping[str, Any], arrival: Arrival) -> Newcomer:
    """Return what is known, from the address of the page and from the clues of the box."""
    requested: RequestedAnalyzer | None = _row(
        RequestedAnalyzer.objects.select_related("request__owner").filter(job=None), asked.get("requested", "")
    )
    request = requested.request if requested else _row(ServiceRequest.objects.all(), asked.get("request", ""))
    owner: Owner | None = _row(Owner.objects.all(), asked.get("owner", ""))
    if owner is None and request is not None and request.owner is not None:
        owner = request.owner
    owner = owner_now(owner) if owner else None
    clues = arrival.clues
    serial = str(clues.get("serial", ""))
    initial = {
        "owner_name": str(clues.get("name", "")),
        "phone": str(clues.get("phone", "")),
        "email": str(clues.get("email", "")),
        "make": str(clues.get("make", "")),
        "model": str(clues.get("model", "")),
        "serial": "" if "?" in serial or "*" in serial else serial,
        "profile": "two-cell-residential",
    }
    if request is not None:
        said = {
            "owner_name": request.firm or request.contact,
            "contact": request.contact,
            "phone": request.phone,
            "email": request.email,
        }
        initial |= {name: text for name, text in said.items() if text}
    if requested is not None:
        read = {"make": requested.make, "model": requested.model, "serial": requested.serial}
        initial |= {name: text for name, text in (read | {"profile": requested.profile}).items() if text}
    return Newcomer(owner, requested, request, initial)


def _row(rows: Any, text: Any) -> Any:
    key = str(text)
    return rows.filter(pk=int(key)).first() if key.isdecimal() and len(key) <= 18 else None
