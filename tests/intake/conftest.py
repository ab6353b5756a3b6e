import datetime as dt

import pytest

from flueproof.intake.file.memory_roster import MemoryRoster
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile, Place

TODAY = dt.date(2026, 11, 25)


def owner(key, name, plates, town="Millbridge", postcode="41002", **more):
    """Return an owner with (model, serial) of each analyzer."""
    analyzers = tuple(AnalyzerOnFile(f"{key}-{n}", "Hollin", model, serial) for n, (model, serial) in enumerate(plates))
    more.setdefault("places", (Place("12 Canal Road", postcode, town),))
    return OwnerOnFile(key, (name,), analyzers=analyzers, **more)


@pytest.fixture(scope="session")
def owners():
    """Return a small file: two firms of one surname, two in one town, serials that differ by one character."""
    return [
        owner("marsh", "Marsh Heating Inc.", [("HC-200", "2105813"), ("HC-400", "1900417")], people=("Ada Marsh",)),
        owner("vale", "Vale Mechanical", [("HC-200", "2105818")], phones=("015-200-4417",), called_on=TODAY),
        owner("marsh2", "Marsh & Sons Oil Service", [("HC-210", "2204456")], "Harford", "52010"),
        owner(
            "reed",
            "Reed Boiler Service",
            [("HC-400", "1805822")],
            "Harford",
            "52010",
            emails=("ada@reed-boiler.example",),
            requests=(OpenRequest(1, dt.date(2026, 11, 20), "reed-0"),),
        ),
        *(
            owner(f"other{n}", f"Firm{n} Energy", [("HC-200", f"20{n:02d}7{n:02d}")], f"Town{n}", f"7{n:02d}10")
            for n in range(30)
        ),
    ]


@pytest.fixture(scope="session")
def roster(owners):
    return MemoryRoster(owners)
