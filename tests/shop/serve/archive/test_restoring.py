"""A backup taken while the shop is written to, restored elsewhere, is the shop as it stood at one moment."""

import json
import subprocess
import sys
import threading
import zipfile

import pytest

from shop.serving import running_shop

PEOPLE_AND_JOBS = """
from django.utils import timezone
from flueproof.shop.records.models import *
from flueproof.shop.records.visits.opening import open_visit
from flueproof.shop.records.visits.events import add_step
from flueproof.shop.records.keeping.blobs import keep_blob
now = timezone.now()
vale = Person.objects.create_user("vale", password="Seven-grey-herons-4", role="technician", last_name="Vale")
firm = Owner.objects.create(name="Tidewater Heating (invented)")
keep_blob(bytes(range(256)), "application/octet-stream", now)
for number in range(20):
    analyzer = Analyzer.objects.create(owner=firm, make="Orrin", model="Orrin 5", serial=f"O5-{number:04d}")
    job = Job.objects.create(number=f"J-2026-{number:05d}", owner=firm, analyzer=analyzer, opened_at=now)
    visit = open_visit(job, vale, now, Shop.here())
    add_step(visit, {"kind": "note", "text": "seen"}, vale, now)
"""
ALL_ROWS = """
import json, hashlib
from django.db import models
from flueproof.shop.serving.archive.contents import archived_models, row_as_line
for model in archived_models():
    digest = hashlib.sha256()
    for row in models.QuerySet(model).order_by("pk"):
        digest.update(row_as_line(row))
    print(model._meta.label_lower, digest.hexdigest())
"""
WRITE_ON = """
import sys
from django.utils import timezone
from flueproof.shop.records.models import *
from flueproof.shop.records.visits.events import add_step
vale = Person.objects.get(username="vale")
for number in range(60):
    visit = Visit.objects.order_by("pk")[number % 20]
    add_step(visit, {"kind": "note", "text": f"later {number}"}, vale, timezone.now())
"""


def flueproof(shop, *arguments):
    """Run a command of flueproof on the shop's database; return what it printed."""
    done = subprocess.run(
        [sys.executable, "-m", "flueproof.cli", *map(str, arguments), "--data", str(shop.folder / "data")],
        env=shop.environment,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout + done.stderr


@pytest.fixture
def shop(tmp_path):
    (tmp_path / "first").mkdir()
    with running_shop(tmp_path / "first", make=PEOPLE_AND_JOBS, serve=False) as running:
        yield running


@pytest.fixture
def elsewhere(tmp_path):
    """An empty place: a shop whose tables are there and nothing else."""
    (tmp_path / "second").mkdir()
    with running_shop(tmp_path / "second", serve=False) as running:
        yield running


def test_a_quiet_shop_comes_back_row_for_row(shop, elsewhere, tmp_path):
    file = tmp_path / "backup.zip"
    assert flueproof(shop, "backup", file)[0] == 0
    code, said = flueproof(elsewhere, "restore", file)
    assert code == 0, said
    assert elsewhere.python(ALL_ROWS) == shop.python(ALL_ROWS)
    # Numbering goes on after the restored rows, and the guards are there.
    assert "append-only" in elsewhere.python(
        "from flueproof.shop.records.models import *\n"
        "Owner.objects.create(name='new (invented)')\n"
        "try: BenchEvent.objects.update(kind='x')\n"
        "except Exception as error: print(error)"
    )


def test_a_backup_taken_while_steps_are_written_is_one_moment(shop, elsewhere, tmp_path):
    writer = threading.Thread(target=shop.python, args=(WRITE_ON,))
    writer.start()
    file = tmp_path / "backup.zip"
    assert flueproof(shop, "backup", file)[0] == 0
    writer.join()
    code, said = flueproof(elsewhere, "restore", file)
    assert code == 0, said  # restoring checks every chain and every file's hash
    assert "records.benchevent" in elsewhere.python(ALL_ROWS)


def test_a_place_that_is_not_empty_is_left_alone(shop, tmp_path):
    file = tmp_path / "backup.zip"
    flueproof(shop, "backup", file)
    before = shop.python(ALL_ROWS)
    code, said = flueproof(shop, "restore", file)
    assert code == 2
    assert "not empty" in said
    assert shop.python(ALL_ROWS) == before


def test_a_damaged_backup_restores_nothing(shop, elsewhere, tmp_path):
    file, damaged = tmp_path / "backup.zip", tmp_path / "damaged.zip"
    flueproof(shop, "backup", file)
    with zipfile.ZipFile(file) as whole, zipfile.ZipFile(damaged, "w") as out:
        for name in whole.namelist():
            out.writestr(name, whole.read(name).replace(b"O5-0007", b"O5-0008"))
    code, said = flueproof(elsewhere, "restore", damaged)
    assert code == 2
    assert "damaged" in said or "refused" in said
    assert (
        elsewhere.python("from flueproof.shop.records.models import Owner; print(Owner.objects.count())").strip() == "0"
    )


def test_the_manifest_names_rows_and_hashes(shop, tmp_path):
    file = tmp_path / "backup.zip"
    flueproof(shop, "backup", file)
    with zipfile.ZipFile(file) as archive:
        manifest = json.loads(archive.read("manifest.json"))
    assert manifest["format"] == "flueproof-backup/1"
    assert manifest["tables"]["records.analyzer"]["rows"] == 20
    assert "sessions.session" not in manifest["tables"]
