"""Doing an import: what the dry run said, in one transaction, once."""

import pytest

from flueproof.shop.records.importing.acting.doing import do_import
from flueproof.shop.records.importing.runs import change_understanding, take_file, understanding_of_run
from flueproof.shop.records.models import Analyzer, Owner

LIST = (
    "Customer,Contact,Phone,Street,City,Make,Model,Serial,Cal due\n"
    "Birch Heating (invented),Ann Birch,555-0111,1 Elm,Port Alder,Orrin,Orrin 5,00123,2027-01-05\n"
    "Birch Heating (invented),Ann Birch,555-0111,1 Elm,Port Alder,Orrin,Orrin 5,00124,\n"
    "Tidewater Heating (invented),,,,,Orrin,Orrin 5,O5-20417,\n"
    "Tidewater Heating (invented),,,,,Orrin,Orrin 5,05-20417,\n"
)


@pytest.fixture
def looked_at(people, now, shop):
    def run(text):
        taken = take_file(text.encode(), "owners.csv", people["counter"], now)
        return change_understanding(taken, understanding_of_run(taken), people["counter"], now)

    return run


def test_what_the_dry_run_found_is_made(looked_at, analyzer, people, now):
    run = looked_at(LIST)
    assert run.found["kinds"] == {
        "new": 2, "there": 1, "lookalike": 1, "adds": 0, "repeated": 0, "differs": 0, "waiting": 0, "error": 0,
    }  # fmt: skip
    done = do_import(run, people["counter"], now)
    made = Analyzer.objects.get(serial="00123")
    assert made.owner.name == "Birch Heating (invented)"
    assert made.history.get().history_change_reason == f"import {run.pk}: owners.csv"
    assert made.history.get().history_user == people["counter"]
    assert done.done_at == now
    assert Owner.objects.count() == 2
