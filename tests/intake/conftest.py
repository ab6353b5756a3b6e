import datetime as dt

import pytest

from flueproof.intake.file.memory_roster import MemoryRoster
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile, Place

TODAY = dt.date(2026, 11, 25)


def owner(key, name, plates, place=("12 Canal Road", "41002", "Millbridge"), **more):
    """Return an owner with (model, serial) of each analyzer."""
    analyzers = tuple(AnalyzerOnFile(f"{key}-{n}", "Hollin", model, serial) for n, (model, serial) in enumerate(plates))
    return OwnerOnFile(key, (name,), analyzers=analyzers, places=(Place(*place),), **more)


def asked(number, **what):
    return OpenRequest(number, dt.date(2026, 11, 20), **what)


@pytest.fixture(scope="session")
def today():
    return TODAY


@pytest.fixture(scope="session")
def owners():
    """Return a small file: two firms of one surname, two in one town, serials that differ by one character."""
    harford = ("9 Depot Lane", "52010", "Harford")
    return [
        owner("marsh", "Marsh Heating Inc.", [("HC-200", "2105813"), ("HC-400", "1900417")], people=("Ada Marsh",)),
        owner("vale", "Vale Mechanical", [("HC-200", "2105818")], phones=("015-200-4417",), called_on=TODAY),
        owner("marsh2", "Marsh & Sons Oil Service", [("HC-210", "2204456")], harford),
        owner(
            "reed",
            "Reed Boiler Service",
            [("HC-400", "1805822"), ("HC-400", "1805999")],
            harford,
            emails=("ada@reed-boiler.example",),
            requests=(asked(1, analyzer="reed-0"),),
        ),
        OwnerOnFile(
            ("request", 7),
            ("Wren Energy",),
            ("Lev Wren",),
            requests=(asked(7, make="Hollin", model="HC-210", serial="2299001"),),
            on_file=False,
        ),
        *(
            owner(n, f"Firm{n} Energy", [("HC-200", f"20{n:02d}7{n:02d}")], ("1 Main Street", f"{n}710", f"Town{n}"))
            for n in range(10, 60)
        ),
    ]


@pytest.fixture(scope="session")
def roster(owners):
    return MemoryRoster(owners)
