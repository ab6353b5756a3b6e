"""A wrong file is refused before anything is touched; a forged one, whose hashes were made to fit, leaves nothing."""

import hashlib
import json
import zipfile

import pytest

from flueproof.shop.records.models import Owner, Person, Shop, Visit
from flueproof.shop.serving.archive.checking import RestoreError, check_backup
from flueproof.shop.serving.archive.reading import restore_backup
from shop.places import FIRST_RELEASE, empty_place, fill, flueproof

MANIFEST = "manifest.json"


@pytest.fixture(scope="module")
def backup(tmp_path_factory):
    """The members of a backup: name -> bytes."""
    folder = tmp_path_factory.mktemp("backup")
    with empty_place(folder / "place") as place:
        code, said = flueproof(fill(place), "backup", folder / "backup.zip")
    assert code == 0, said
    with zipfile.ZipFile(folder / "backup.zip") as archive:
        return {name: archive.read(name) for name in archive.namelist()}


@pytest.fixture
def packed(tmp_path):
    """Return a function members -> file."""

    def pack(members):
        with zipfile.ZipFile(tmp_path / "backup.zip", "w", zipfile.ZIP_DEFLATED) as archive:
            for name, content in members.items():
                archive.writestr(name, content)
        return tmp_path / "backup.zip"

    return pack


def with_manifest(backup, **changes):
    return {**backup, MANIFEST: json.dumps({**json.loads(backup[MANIFEST]), **changes})}


def forged(backup, label, change):
    """Return the members with the lines of one table changed and its hash made to fit."""
    name = f"tables/{label}.jsonl"
    lines = change([json.loads(line) for line in backup[name].splitlines()])
    content = b"".join(json.dumps(line, ensure_ascii=False).encode() + b"\n" for line in lines)
    tables = json.loads(backup[MANIFEST])["tables"]
    tables[label] = {"rows": len(lines), "sha256": hashlib.sha256(content).hexdigest()}
    return {**with_manifest(backup, tables=tables), name: content}


def first_changed(**values):
    return lambda lines: [{**lines[0], **values}, *lines[1:]]


def test_a_whole_one_is_taken(backup, packed):
    found = check_backup(packed(backup))
    assert found.tables["records.job"]["rows"] == 3
    assert not found.is_older


def test_one_of_an_older_version_is_taken_and_known_as_such():
    assert check_backup(FIRST_RELEASE).is_older


class TestAWrongFile:
    """No database is at hand in these tests: nothing can be touched."""

    def refusal(self, file):
        with pytest.raises(RestoreError) as refused:
            check_backup(file)
        assert refused.value.remedy
        return refused.value.message

    @pytest.mark.parametrize("content", [b"", b"no archive", b"PK\x03\x04 half of one"])
    def test_that_is_no_archive(self, tmp_path, content):
        (tmp_path / "backup.zip").write_bytes(content)
        assert "cannot be read as a backup" in self.refusal(tmp_path / "backup.zip")

    def test_that_is_not_there(self, tmp_path):
        assert "cannot be read" in self.refusal(tmp_path / "gone.zip")

    @pytest.mark.parametrize("manifest", [None, b"", b"[]", b"{", b"{}", b'"text"'])
    def test_without_a_manifest(self, packed, manifest):
        assert "no manifest" in self.refusal(packed({} if manifest is None else {MANIFEST: manifest}))

    @pytest.mark.parametrize("change", [{"tables": None}, {"tables": {"records.job": 3}}, {"schema": "records"}])
    def test_whose_manifest_is_not_whole(self, backup, packed, change):
        assert "not whole" in self.refusal(packed(with_manifest(backup, **change)))

    def test_of_another_format(self, backup, packed):
        assert "flueproof-backup/99" in self.refusal(packed(with_manifest(backup, format="flueproof-backup/99")))

    def test_of_a_newer_version(self, backup, packed):
        schema = [*json.loads(backup[MANIFEST])["schema"], "records/9999_later"]
        assert "tables that this one does not have" in self.refusal(packed(with_manifest(backup, schema=schema)))

    def test_with_a_table_unknown_here(self, backup, packed):
        tables = {**json.loads(backup[MANIFEST])["tables"], "records.spare": {"rows": 0, "sha256": "0"}}
        assert "tables that this one does not have" in self.refusal(packed(with_manifest(backup, tables=tables)))

    def test_with_a_letter_changed(self, backup, packed):
        name = "tables/records.owner.jsonl"
        members = {**backup, name: backup[name].replace(b"Tidewater", b"Tidewatex")}
        assert "records.owner: the file was damaged" in self.refusal(packed(members))

    def test_with_a_table_missing(self, backup, packed):
        members = {name: content for name, content in backup.items() if name != "tables/records.owner.jsonl"}
        assert "records.owner: the file was damaged" in self.refusal(packed(members))

    def test_with_a_row_missing(self, backup, packed):
        name = "tables/records.benchevent.jsonl"
        members = {**backup, name: b"".join(backup[name].splitlines(keepends=True)[:-1])}
        assert "records.benchevent: the file was damaged" in self.refusal(packed(members))

    def test_that_was_cut_off(self, backup, packed):
        whole = packed(backup)
        whole.write_bytes(whole.read_bytes()[:-2000])
        assert "cannot be read" in self.refusal(whole)

    @pytest.mark.parametrize("part", [0.2, 0.5, 0.8])
    def test_with_a_byte_changed_on_the_disk(self, backup, packed, part):
        whole = packed(backup)
        content = bytearray(whole.read_bytes())
        content[int(part * len(content))] ^= 0xFF
        whole.write_bytes(content)
        assert self.refusal(whole)


class TestAForgedFile:
    """Rows that were changed together with their hashes."""

    @pytest.mark.parametrize(
        ("label", "change", "told"),
        [
            ("records.blob", first_changed(content="00ff"), "not what its hash says"),
            ("records.benchevent", first_changed(body='{"changed":true}'), "was changed after it was recorded"),
            ("records.benchevent", lambda lines: lines[:2] + lines[3:], "is missing"),
            ("records.job", first_changed(owner_id=4711), "refused a row"),
            ("records.job", lambda lines: [*lines, lines[0]], "refused a row"),
            ("records.job", first_changed(number=None), "refused a row"),
            ("records.job", first_changed(colour="red"), "cannot be read"),
            ("records.job", first_changed(opened_at="yesterday"), "cannot be read"),
            ("records.job", lambda lines: [[], *lines], "cannot be read"),
        ],
    )
    def test_is_refused_and_nothing_is_kept(self, db, backup, packed, label, change, told):
        before = list(Shop.objects.values())
        with pytest.raises(RestoreError, match=told):
            restore_backup(check_backup(packed(forged(backup, label, change))))
        assert [model.objects.count() for model in (Owner, Person, Visit)] == [0, 0, 0]
        assert list(Shop.objects.values()) == before

    def test_the_same_with_nothing_changed_is_taken(self, db, backup, packed):
        counts = restore_backup(check_backup(packed(forged(backup, "records.job", lambda lines: lines))))
        assert counts["records.job"] == 3
        assert Owner.objects.get().name == "Tidewater Heating (invented)"


def test_a_place_with_people_is_left_alone(db, people, backup, packed):
    with pytest.raises(RestoreError, match="not empty"):
        restore_backup(check_backup(packed(backup)))
    assert Person.objects.count() == len(people)
