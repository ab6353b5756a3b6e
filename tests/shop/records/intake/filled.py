"""A simulated world put into the database, and the same as the core's own list in memory."""

import datetime as dt
from zoneinfo import ZoneInfo

from django.db import transaction

from flueproof.intake.file.memory_roster import MemoryRoster
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile, Place
from flueproof.shop.records.models import (
    Analyzer,
    Job,
    Obligation,
    Owner,
    OwnerAddress,
    OwnerContact,
    Person,
    PhoneCall,
    RequestedAnalyzer,
    ServiceRequest,
)

ZONE = ZoneInfo("America/New_York")


def at(day):
    return dt.datetime.combine(day, dt.time(10), ZONE)


def fill(world, by):
    """Write the world's file to the database; return place in the file -> owner and analyzer."""
    file = world.file
    with transaction.atomic():
        owners = Owner.objects.bulk_create([Owner(name=firm.name) for firm in file.owners])
        former = [Owner(name=name, merged_into=owners[firm.key]) for firm in file.owners for name in firm.other_names]
        Owner.objects.bulk_create(former)
        contacts, addresses = [], []
        for firm in file.owners:
            owner = owners[firm.key]
            for place in range(max(len(firm.people), len(firm.phones), len(firm.emails))):
                said = [
                    values[place] if place < len(values) else "" for values in (firm.people, firm.phones, firm.emails)
                ]
                contacts.append(OwnerContact(owner=owner, name=said[0], phone=said[1], email=said[2]))
            addresses += [
                OwnerAddress(owner=owner, lines=one.street, postcode=one.postcode, town=one.town) for one in firm.places
            ]
        OwnerContact.objects.bulk_create(contacts, batch_size=1000)
        OwnerAddress.objects.bulk_create(addresses, batch_size=1000)
        units = [
            Analyzer(owner=owners[plate.owner], make=plate.make, model=plate.model, serial=plate.serial)
            for plate in file.analyzers
        ]
        for unit in units:
            unit.fill_keys()
        units = Analyzer.objects.bulk_create(units, batch_size=1000)
        due = [Obligation(analyzer=units[one.key], next_due=one.next_due) for one in file.analyzers if one.next_due]
        Obligation.objects.bulk_create(due, batch_size=1000)
        _fill_expected(file, owners, units, by)
    return owners, units


def _fill_expected(file, owners, units, by):
    calls = [PhoneCall(at=at(call.on), by=by, owner=owners[call.owner]) for call in file.calls]
    PhoneCall.objects.bulk_create(calls, batch_size=500)
    jobs, asked = [], []
    for number, one in enumerate(file.requests):
        if one.analyzer is not None:
            jobs.append(
                Job(
                    number=f"J-2026-{number:05d}",
                    owner=owners[one.owner],
                    analyzer=units[one.analyzer],
                    opened_at=at(one.since),
                )
            )
        else:
            request = ServiceRequest(
                code=f"R-{number}", state="confirmed", owner=owners[one.owner], made_at=at(one.since)
            )
            request.save()
            asked.append(RequestedAnalyzer(request=request, slip=f"S-{number}"))
    Job.objects.bulk_create(jobs, batch_size=500)
    RequestedAnalyzer.objects.bulk_create(asked, batch_size=500)


def in_memory(world, owners, units):
    """Return the core's own roster of the same file, with the keys of the database."""
    file = world.file
    called = {}
    for call in file.calls:
        called[call.owner] = max(call.on, called.get(call.owner, call.on))
    found = []
    for firm in file.owners:
        plates = [file.analyzers[key] for key in firm.analyzers]
        requests = [
            OpenRequest(number, one.since, None if one.analyzer is None else units[one.analyzer].pk)
            for number, one in enumerate(file.requests)
            if one.owner == firm.key
        ]
        found.append(
            OwnerOnFile(
                owners[firm.key].pk,
                (firm.name, *firm.other_names),
                firm.people,
                firm.phones,
                firm.emails,
                tuple(Place(one.street, one.postcode, one.town) for one in firm.places),
                tuple(
                    AnalyzerOnFile(units[one.key].pk, one.make, one.model, one.serial, one.next_due) for one in plates
                ),
                tuple(requests),
                called.get(firm.key),
            )
        )
    return MemoryRoster(found)


def clues_of(box):
    """Return what is seen of a simulated box, as typed."""
    seen = box.sender
    return {
        "serial": box.serial,
        "make": box.make,
        "model": box.model,
        "name": seen.name,
        "street": seen.street,
        "postcode": seen.postcode,
        "town": seen.town,
        "postmark": seen.postmark,
        "phone": seen.phone,
        "email": seen.email,
    }


def counter_person():
    return Person.objects.create_user("desk", password="Seven-grey-herons-4", role="counter")  # noqa: S106 -- a test's
