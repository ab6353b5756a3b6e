"""A backup taken while the shop is written to, restored elsewhere, is the shop as it stood at one moment."""

import contextlib
import hashlib
import json
import os
import threading
import time
import zipfile

import pytest

from shop.places import FIRST_RELEASE, UPGRADE, empty_place, fill, flueproof
from shop.records.upgrading.at_a_release import rows_of
from shop.serving import running_shop

EVERY_ROW = """
import json
from flueproof.shop.serving.archive.contents import archived_models
from shop.records.upgrading.at_a_release import rows_now
print(json.dumps(rows_now(model._meta.label_lower for model in archived_models())))
"""
GUARDED = """
from django.db import transaction
from flueproof.shop.records.models import *
print(Owner.objects.create(name="New (invented)").pk > 1)
try: BenchEvent.objects.update(kind="x")
except Exception as error: print(error)
"""
TWENTY_VISITS = """
from django.utils import timezone
from flueproof.shop.records.models import *
from flueproof.shop.records.visits.opening import open_visit
now = timezone.now()
vale = Person.objects.create_user("vale", password="Seven-grey-herons-4", role="technician", last_name="Vale")
firm = Owner.objects.create(name="Tidewater Heating (invented)")
for number in range(20):
    analyzer = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-{number:04d}")
    job = Job.objects.create(number=f"J-2026-{number:05d}", owner=firm, analyzer=analyzer, opened_at=now)
    open_visit(job, vale, now, Shop.here())
"""
WRITE_ON = """
import pathlib, sys, time
from django.utils import timezone
from flueproof.shop.records.models import *
from flueproof.shop.records.visits.events import add_step
folder = pathlib.Path(sys.argv[1])
vale = Person.objects.get(username="vale")
visits = list(Visit.objects.order_by("pk"))
number = 0
while not (folder / "enough").exists():
    add_step(visits[number % 20], {"kind": "note", "text": f"note {number}"}, vale, timezone.now())
    number += 1
    (folder / "going").touch()
    time.sleep(0.02)
"""
NOTES = """
import json
from flueproof.shop.records.models import *
print(json.dumps([visit.events.filter(kind="step").count() for visit in Visit.objects.order_by("pk")]))
"""
EMPTY_FOR_NOW = {"auth.group", "records.person_groups"}  # the shop knows roles, not groups
SERVER = os.environ.get("DATABASE_URL", "")
WAYS = [("here", "here")] + ([("sqlite", "here"), ("here", "sqlite")] if SERVER else [])


def address(engine):
    return "" if engine == "sqlite" else SERVER


def rows(place):
    return json.loads(place.python(EVERY_ROW))


@pytest.fixture(scope="module")
def full(tmp_path_factory):
    """Return a function engine -> a shop with rows in every table, made once."""
    with contextlib.ExitStack() as stack:
        made = {}

        def place(engine):
            if engine not in made:
                folder = tmp_path_factory.mktemp("full") / "place"
                made[engine] = fill(stack.enter_context(empty_place(folder, address(engine))))
            return made[engine]

        yield place


def test_the_shop_that_is_compared_has_rows_in_every_table(full):
    assert {label for label, found in rows(full("here")).items() if not found} == EMPTY_FOR_NOW


@pytest.mark.parametrize(("source", "target"), WAYS)
def test_what_was_restored_is_what_was_there_row_for_row(full, tmp_path, source, target):
    """Here is the database of this round of tests; on PostgreSQL the way to SQLite and back is gone as well."""
    file, before = tmp_path / "backup.zip", full(source)
    code, said = flueproof(before, "backup", file)
    assert code == 0, said
    with empty_place(tmp_path / "elsewhere", address(target)) as elsewhere:
        code, said = flueproof(elsewhere, "restore", file)
        assert code == 0, said
        assert rows(elsewhere) == rows(before)
        numbering, *guard = elsewhere.python(GUARDED).splitlines()
        assert numbering == "True"
        assert "append-only" in guard[0]


def test_a_backup_of_the_first_release_is_restored_and_brought_up_to_date(tmp_path):
    before = rows_of(FIRST_RELEASE)
    with empty_place(tmp_path / "elsewhere") as elsewhere:
        code, said = flueproof(elsewhere, "restore", FIRST_RELEASE)
        assert code == 0, said
        now = rows(elsewhere)
        assert "append-only" in elsewhere.python(GUARDED)
        assert elsewhere.python(UPGRADE) == "False False\n"
    for label, kept in before.items():
        assert [{column: row[column] for column in kept[0]} for row in now[label]] == kept, label


def test_a_forged_one_of_an_older_version_keeps_nothing_and_a_whole_one_after_it_is_taken(tmp_path):
    file, name = tmp_path / "forged.zip", "tables/records.benchevent.jsonl"
    with zipfile.ZipFile(FIRST_RELEASE) as whole, zipfile.ZipFile(file, "w") as out:
        members = {one: whole.read(one) for one in whole.namelist()}
        members[name] = members[name].replace(b"invented", b"inventee")
        manifest = json.loads(members["manifest.json"])
        manifest["tables"]["records.benchevent"]["sha256"] = hashlib.sha256(members[name]).hexdigest()
        for one, content in {**members, "manifest.json": json.dumps(manifest)}.items():
            out.writestr(one, content)
    with empty_place(tmp_path / "elsewhere") as elsewhere:
        code, said = flueproof(elsewhere, "restore", file)
        assert code == 2
        assert "was changed after it was recorded" in said
        assert flueproof(elsewhere, "restore", FIRST_RELEASE)[0] == 0


def test_a_place_with_newer_tables_takes_no_older_backup(tmp_path):
    with empty_place(tmp_path / "elsewhere") as elsewhere:
        elsewhere.python(UPGRADE)
        code, said = flueproof(elsewhere, "restore", FIRST_RELEASE)
        assert code == 2
        assert "newer tables than the backup" in said
        assert not any(rows(elsewhere).values())


def test_a_place_that_is_not_empty_is_left_alone(full, tmp_path):
    file, place = tmp_path / "backup.zip", full("here")
    flueproof(place, "backup", file)
    before = rows(place)
    code, said = flueproof(place, "restore", file)
    assert (code, rows(place)) == (2, before)
    assert "not empty" in said


def test_a_wrong_file_leaves_not_even_tables_behind(tmp_path):
    file = tmp_path / "backup.zip"
    file.write_bytes(b"no archive at all")
    with empty_place(tmp_path / "elsewhere") as elsewhere:
        code, said = flueproof(elsewhere, "restore", file)
        assert code == 2
        assert "cannot be read as a backup" in said
        assert (
            elsewhere.python("from django.db import connection; print(connection.introspection.table_names())")
            == "[]\n"
        )


def test_a_backup_taken_while_steps_are_written_is_one_moment(tmp_path):
    """Notes go to twenty visits in turn: what was restored has so many rounds and the beginning of one more."""
    file = tmp_path / "backup.zip"
    with running_shop(tmp_path / "busy", make=TWENTY_VISITS, serve=False) as shop:
        writer = threading.Thread(target=shop.python, args=(WRITE_ON, str(tmp_path)))
        writer.start()
        try:
            while not (tmp_path / "going").exists():
                time.sleep(0.02)
            code, said = flueproof(shop, "backup", file)
            assert code == 0, said
        finally:
            (tmp_path / "enough").touch()
            writer.join()
        at_the_end = json.loads(shop.python(NOTES))
    with empty_place(tmp_path / "elsewhere") as elsewhere:
        code, said = flueproof(elsewhere, "restore", file)
        assert code == 0, said  # restoring looks at every chain
        restored = json.loads(elsewhere.python(NOTES))
    whole, begun = divmod(sum(restored), 20)
    assert restored == [whole + (number < begun) for number in range(20)]
    assert 0 < sum(restored) < sum(at_the_end)


def test_a_backup_that_cannot_be_written_leaves_what_was_there(full, tmp_path):
    file = tmp_path / "backup.zip"
    file.write_bytes(b"yesterday's")
    (tmp_path / "backup.zip.part").mkdir()
    assert flueproof(full("here"), "backup", file)[0] != 0
    assert file.read_bytes() == b"yesterday's"


def test_the_manifest_names_rows_and_hashes(full, tmp_path):
    file = tmp_path / "backup.zip"
    flueproof(full("here"), "backup", file)
    with zipfile.ZipFile(file) as archive:
        manifest = json.loads(archive.read("manifest.json"))
    assert manifest["format"] == "flueproof-backup/1"
    assert manifest["tables"]["records.job"]["rows"] == 3
    assert "sessions.session" not in manifest["tables"]
