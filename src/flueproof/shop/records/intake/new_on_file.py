"""An owner and an analyzer that were never here, put on file from what a request or a label says."""

from __future__ import annotations

from flueproof.shop.records.intake.arrivals import save_by
from flueproof.shop.records.jobs.opening import SERIAL_UNKNOWN, NewAnalyzer, NewOwner, OpeningRefusedError
from flueproof.shop.records.models import Analyzer, Owner, OwnerContact, Person


def put_on_file(owner: Owner | NewOwner, analyzer: NewAnalyzer, box: str, by: Person) -> Analyzer:
    """Return the new analyzer of an owner; a plate that could not be read has a stand-in named after the box.

    Raises: OpeningRefusedError when make and serial are on file already, with nothing written.
    """
    serial = analyzer.serial.strip() or f"{SERIAL_UNKNOWN} ({box})"
    known = Analyzer.objects.filter(make=analyzer.make, serial=serial).select_related("owner").first()
    if known is not None:
        raise OpeningRefusedError(f"{known.make} {serial} is on file already, of {known.owner}. Choose it there")
    firm = owner if isinstance(owner, Owner) else _new_owner(owner, by)
    unit = Analyzer(owner=firm, make=analyzer.make, model=analyzer.model, serial=serial, profile=analyzer.profile)
    save_by(unit, by)
    return unit


def _new_owner(owner: NewOwner, by: Person) -> Owner:
    firm = Owner(name=owner.name)
    save_by(firm, by)
    if owner.contact or owner.phone or owner.email:
        name = owner.contact or owner.name
        save_by(OwnerContact(owner=firm, name=name, phone=owner.phone, email=owner.email), by)
    return firm
