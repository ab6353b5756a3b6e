"""The data of every release so far come up to today's tables whole: rows, chains, papers, guards, search.

A release adds its own file to this folder (what `flueproof backup` writes of a shop like the one of
make_first_release.py); every file is loaded into tables of its time and brought up to date by what `serve` does.
"""

import io
import json
import zipfile
from pathlib import Path

import pytest
from django.core.management import call_command
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from flueproof.shop.serving.errors import NewerDataError
from flueproof.shop.serving.preparing import bring_up_to_date
from shop.conftest import PASSWORD
from shop.places import LOAD, UPGRADE, empty_place, fill
from shop.records.upgrading.at_a_release import rows_of

RELEASES = sorted(Path(__file__).parent.glob("*.zip"))
ROWS = """
import json, sys
from shop.records.upgrading.at_a_release import rows_now
print(json.dumps(rows_now(sys.argv[1:])))
"""
SHAPE = """
import json
from shop.records.upgrading.at_a_release import shape
print(json.dumps(shape()))
"""
STATE = """
import json, sys
from django.apps import apps
from django.db import DatabaseError, connection, models, transaction
from django.test import Client
from django.utils import timezone
from flueproof.shop.records.finding.searching import search
from flueproof.shop.records.issuing.verifying import verify_paper
from flueproof.shop.records.keeping.append_only import APPEND_ONLY_TABLES, missing_triggers
from flueproof.shop.records.models import *
from flueproof.shop.records.visits.chain import broken_links
from flueproof.shop.records.visits.events import add_step
from flueproof.shop.records.visits.judged import judged

def refused(verb, table):
    column = connection.introspection.get_table_description(connection.cursor(), table)[1].name
    said = {"update": f'UPDATE {table} SET "{column}" = "{column}"', "delete": f"DELETE FROM {table}"}[verb]
    try:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(said)
            return cursor.rowcount == 0
    except DatabaseError as error:
        return "append-only" in str(error)

vale = Person.objects.get(username="technician")
visits = list(Visit.objects.order_by("pk"))
out = {
    "broken": [line for visit in visits for line in broken_links(visit)],
    "papers": {
        paper.number: [finding.what for finding in verify_paper(paper, None, timezone.now()) if finding.agrees is False]
        for paper in Paper.objects.all()
    },
    "missing": missing_triggers(connection),
    "not refused": [
        f"{verb} {table}"
        for table in APPEND_ONLY_TABLES
        for verb in ("update", "delete")
        if not refused(verb, table)
    ],
    "found": {
        text: sorted({hit.kind for group in search(text).groups for hit in group.hits})
        for text in ("tidewater", "O5-0204", "555-0100", "J-2026-00042", "CYL-CO", "FP-2026-00001")
    },
    "read": [judged(visit).tree["job"] == visit.job.number for visit in visits],
}
with transaction.atomic():
    step = add_step(visits[-1], {"kind": "note", "text": "after the upgrade"}, vale, timezone.now())
    out["goes on"] = [step.position == visits[-1].events.count(), broken_links(visits[-1])]
    before = max(Owner.objects.values_list("pk", flat=True))
    out["numbers go on"] = Owner.objects.create(name="New (invented)").pk > before
    transaction.set_rollback(True)
answer = Client(headers={"host": "localhost"}).post("/sign-in", {"username": "technician", "password": sys.argv[1]})
out["signs in"] = answer.status_code == 302
print(json.dumps(out))
"""
# Every append-only table is rebuilt as a migration would do it, then `migrate` runs.
REBUILD = """
import json
from django.apps import apps
from django.core.management import call_command
from django.db import connection, models
from flueproof.shop.records.keeping.append_only import APPEND_ONLY_TABLES, missing_triggers
guarded = [model for model in apps.get_models() if model._meta.db_table in APPEND_ONLY_TABLES]
rows = [[models.QuerySet(model).count() for model in guarded]]
for model in guarded:
    added = models.CharField(max_length=9, null=True)
    added.set_attributes_from_name("spare")
    with connection.schema_editor() as editor:
        if connection.vendor == "sqlite":
            editor._remake_table(model, create_field=added)
        else:
            editor.add_field(model, added)
lost = missing_triggers(connection)
call_command("migrate", verbosity=0)
rows.append([models.QuerySet(model).count() for model in guarded])
print(json.dumps({
    "vendor": connection.vendor, "tables": sorted(model._meta.db_table for model in guarded),
    "lost": len(lost), "missing": missing_triggers(connection), "rows": rows,
}))
"""


@pytest.fixture(scope="module", params=RELEASES, ids=lambda path: path.stem)
def release(request):
    return request.param


@pytest.fixture(scope="module")
def upgraded(release, tmp_path_factory):
    """The data of a release, brought up to today's tables the way `serve` does it."""
    with empty_place(tmp_path_factory.mktemp("upgraded") / "place") as place:
        place.python(LOAD, str(release))
        assert place.python(UPGRADE).split() == ["True", "False"]
        yield place


@pytest.fixture(scope="module")
def state(upgraded):
    return json.loads(upgraded.python(STATE, PASSWORD))


def test_there_is_a_file_of_the_first_release():
    with zipfile.ZipFile(RELEASES[0]) as archive:
        schema = json.loads(archive.read("manifest.json"))["schema"]
    assert [name for name in schema if name.startswith("records/")] == ["records/0001_initial"]


def test_every_row_is_there_with_every_value(release, upgraded):
    before = rows_of(release)
    now = json.loads(upgraded.python(ROWS, *before))
    assert len(before) > 45
    for label, rows in before.items():
        kept = [{column: row[column] for column in rows[0]} for row in now[label]]
        assert kept == rows, label


def test_every_chain_of_hashes_holds(state):
    assert state["broken"] == []


def test_every_paper_is_still_what_was_signed(state):
    assert state["papers"] == {"FP-2026-00001": []}


def test_what_was_recorded_is_guarded_again(state):
    assert (state["missing"], state["not refused"]) == ([], [])


def test_the_search_finds_what_the_release_put_in(state):
    assert state["found"] == {
        "tidewater": ["contact", "owner"],
        "O5-0204": ["analyzer"],
        "555-0100": ["contact"],
        "J-2026-00042": ["job"],
        "CYL-CO": ["reference"],
        "FP-2026-00001": ["paper"],
    }


def test_every_visit_can_be_read_and_goes_on(state):
    assert state["read"] == [True, True]
    assert state["goes on"] == [True, []]
    assert state["numbers go on"]


def test_a_person_of_then_signs_in(state):
    assert state["signs in"]


def test_the_tables_are_those_of_a_new_shop(upgraded, tmp_path):
    with empty_place(tmp_path / "new") as new:
        new.python(UPGRADE)
        old_shape, new_shape = (json.loads(place.python(SHAPE)) for place in (upgraded, new))
    assert old_shape.keys() == new_shape.keys()
    for table, shape in new_shape.items():
        assert old_shape[table] == shape, table


def test_a_table_rebuilt_by_a_migration_is_guarded_again(tmp_path):
    """SQLite rebuilds a table for most changes of a column, and the triggers go with the old one."""
    with empty_place(tmp_path / "rebuilt") as place:
        said = json.loads(fill(place).python(REBUILD))
    tables, rows = said["tables"], said["rows"]
    assert said["lost"] == (2 * len(tables) if said["vendor"] == "sqlite" else 0)
    assert said["missing"] == []
    assert rows == [rows[0], rows[0]]
    assert min(rows[0]) > 0


def test_no_change_of_a_model_lacks_its_migration(db):
    said = io.StringIO()
    call_command("makemigrations", dry_run=True, stdout=said)
    assert said.getvalue() == "No changes detected\n"


def test_an_older_program_leaves_newer_data_alone(db):
    MigrationRecorder(connection).record_applied("records", "9999_of_next_year")
    with pytest.raises(NewerDataError, match="9999_of_next_year") as refusal:
        bring_up_to_date()
    assert "restore a backup" in refusal.value.remedy
