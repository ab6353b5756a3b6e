"""The simulation's file and boxes as the ranking takes them."""

from dataclasses import asdict

from flueproof.intake.clues import Clues
from flueproof.intake.file.memory_roster import MemoryRoster
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile, Place


def roster_of(file):
    """Return the simulated file as a roster in memory."""
    requests, calls = {}, {}
    for number, asked in enumerate(file.requests):
        requests.setdefault(asked.owner, []).append(OpenRequest(number, asked.since, asked.analyzer))
    for called in file.calls:
        calls[called.owner] = max(called.on, calls.get(called.owner, called.on))
    owners = [
        OwnerOnFile(
            firm.key,
            (firm.name, *firm.other_names),
            firm.people,
            firm.phones,
            firm.emails,
            tuple(Place(place.street, place.postcode, place.town) for place in firm.places),
            tuple(analyzer_of(file.analyzers[key]) for key in firm.analyzers),
            tuple(requests.get(firm.key, ())),
            calls.get(firm.key),
        )
        for firm in file.owners
    ]
    return MemoryRoster(owners, file.seen_postmarks)


def analyzer_of(plate):
    return AnalyzerOnFile(plate.key, plate.make, plate.model, plate.serial, plate.next_due, plate.last_seen)


def clues_of(box):
    """Return what is seen of a simulated box."""
    return Clues(serial=box.serial, make=box.make, model=box.model, **asdict(box.sender))
