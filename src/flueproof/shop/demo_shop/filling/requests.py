"""The demo's service requests: a draft, two that nobody confirmed, two whose box is awaited, one taken by phone."""

from __future__ import annotations

import datetime as dt
from typing import Any, Final
from urllib.parse import urljoin

from flueproof.shop.demo_shop.jobs import Scene
from flueproof.shop.records.intake.asking.drafts import add_analyzer, begin_draft
from flueproof.shop.records.intake.asking.letters import ask_to_confirm
from flueproof.shop.records.intake.requests import confirm_request, send_request
from flueproof.shop.records.models import Analyzer, Job, Owner, ServiceRequest

_WHO: Final[dict[str, str]] = {"town": "Port Alder", "lines": "9 Slip Road", "country": "(invented)"}
_USUAL: Final = ["probe", "hose", "trap", "filters"]


def fill_requests(scene: Scene) -> list[ServiceRequest]:
    """Make the requests; those of firms on file ask for analyzers that have no open job."""
    draw, now = scene.chance.randrange, scene.now
    busy = Job.objects.filter(state__in=Job.OPEN).values("analyzer")
    free = list(Analyzer.objects.filter(control_unit=False).exclude(pk__in=busy).select_related("owner")[:3])
    made = [
        _begun(scene, "Slipway Boilers (invented)", "Jo Finch (invented)", 2, [{"model": "Orrin 5"}]),
        _begun(scene, "Gullfoot Heating (invented)", "Pat Rowan (invented)", 9, [_said("Orrin 5", "O5-41122")]),
        _begun(scene, "Ferry Lane Heat (invented)", "Sam Ridge (invented)", 0, [_said("Orrin 5", "05-3O118")]),
    ]
    for late in made[1:]:
        send_request(late, late.made_at, None)
    made[2].refresh_from_db()
    ask_to_confirm(made[2], lambda path: urljoin("https://bench.example", path), now)
    for unit, by_phone in zip(free, (False, False, True), strict=False):
        made.append(_of_firm(scene, unit, by_phone=by_phone))
    second = _said("Orrin 5", "O5-0000Z")
    if len(free) > 1:
        later = begin_draft(_from(free[1].owner), "page", None, now - dt.timedelta(days=1), empty=True, draw=draw)
        for said in (_of_unit(free[1]), second):
            add_analyzer(later, said, None, draw=draw)
        confirm_request(later, now - dt.timedelta(hours=20), scene.people["marsh"])
        made.append(later)
    return made


def _begun(scene: Scene, firm: str, person: str, days: int, units: list[dict[str, Any]]) -> ServiceRequest:
    at, draw = scene.now - dt.timedelta(days=days, hours=3), scene.chance.randrange
    mail = f"{person.split(maxsplit=1)[0].lower()}@{firm.split(maxsplit=1)[0].lower()}.example"
    said = {"firm": firm, "contact": person, "email": mail, "phone": f"555-02{days:02d}", **_WHO}
    row = begin_draft(said, "page", None, at, empty=True, draw=draw)
    for unit in units:
        add_analyzer(row, unit, None, draw=draw)
    return row


def _of_firm(scene: Scene, unit: Analyzer, *, by_phone: bool) -> ServiceRequest:
    by, at = scene.people["marsh"], scene.now - dt.timedelta(hours=scene.chance.randint(2, 30))
    source = "phone" if by_phone else "page"
    row = begin_draft(_from(unit.owner), source, by if by_phone else None, at, empty=True, draw=scene.chance.randrange)
    add_analyzer(row, _of_unit(unit), None, draw=scene.chance.randrange)
    if not by_phone:
        send_request(row, at, None)
    return confirm_request(row, at, by if by_phone else None)


def _from(owner: Owner) -> dict[str, Any]:
    person, address = owner.contacts.first(), owner.addresses.first()
    said: dict[str, Any] = {"firm": owner.name, "carrier": "we collect it"}
    if person is not None:
        said |= {"contact": person.name, "email": person.email, "phone": person.phone}
    if address is not None:
        said |= {"lines": address.lines, "town": address.town}
    return said


def _of_unit(unit: Analyzer) -> dict[str, Any]:
    return {**_said(unit.model, unit.serial), "make": unit.make}


def _said(model: str, serial: str) -> dict[str, Any]:
    return {
        "make": model.split(maxsplit=1)[0],
        "model": model,
        "serial": serial,
        "complaint": "Shows 3 ppm of CO in clean air since last week.",
        "used_on": "oil boiler",
        "enclosed": _USUAL,
    }
