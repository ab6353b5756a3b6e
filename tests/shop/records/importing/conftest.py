"""Lists as text, looked at and imported."""

import pytest

from flueproof.shop.records.importing.acting.doing import do_import
from flueproof.shop.records.importing.runs import change_understanding, take_file, understanding_of_run
from flueproof.shop.records.models import ImportRun


@pytest.fixture
def looked_at(people, now, shop):
    """Return a function list -> the import after its dry run, columns as guessed or remembered."""

    def run(text, name="owners.csv"):
        content = text if isinstance(text, bytes) else text.encode()
        taken = take_file(content, name, people["counter"], now)
        changed = change_understanding(taken, understanding_of_run(taken), people["counter"], now)
        return ImportRun.objects.get(pk=changed.pk)

    return run


@pytest.fixture
def imported(looked_at, people, now):
    """Return a function list -> the import, done."""
    return lambda text: do_import(looked_at(text), people["counter"], now)
