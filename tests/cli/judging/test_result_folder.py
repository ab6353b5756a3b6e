"""A folder of papers is there as a whole or not at all."""

from pathlib import Path

import pytest

from flueproof.cli.judging.result_folder import folder_for, refuse_existing, write_folder
from flueproof.cli.words.faults import Refusal

FILES = {"certificate.pdf": b"%PDF", "judgement.json": b"{}"}


def names(folder):
    return sorted(file.name for file in folder.iterdir())


@pytest.mark.parametrize(
    ("name", "stem"), [("rec-0001.json", "rec-0001"), ("REC.JSON", "REC"), ("rec", "rec"), ("a.b.json", "a.b")]
)
def test_the_folder_is_the_name_without_json(tmp_path, name, stem):
    assert folder_for(tmp_path, name) == tmp_path / stem


@pytest.mark.parametrize("name", [".json", "..json", "...json", " .json", "."])
def test_a_name_of_which_nothing_is_left_is_refused(tmp_path, name):
    with pytest.raises(Refusal):
        folder_for(tmp_path, name)


def test_all_files_are_there_and_nothing_beside(tmp_path):
    write_folder(tmp_path / "out" / "rec", FILES)
    assert names(tmp_path / "out") == ["rec"]
    assert {name: (tmp_path / "out" / "rec" / name).read_bytes() for name in FILES} == FILES


@pytest.mark.parametrize("overwrite", [False, True])
def test_a_write_that_fails_half_way_leaves_what_was(tmp_path, monkeypatch, overwrite):
    if overwrite:
        write_folder(tmp_path / "rec", FILES)
    before = {path.name: names(path) for path in tmp_path.iterdir()}
    real = Path.write_bytes

    def fails_at_the_second(self, data):
        if self.name == "judgement.json":
            raise OSError(28, "No space left on device")
        return real(self, data)

    monkeypatch.setattr(Path, "write_bytes", fails_at_the_second)
    with pytest.raises(OSError, match="No space"):
        write_folder(tmp_path / "rec", FILES, overwrite=overwrite)
    assert {path.name: names(path) for path in tmp_path.iterdir()} == before


def test_folders_made_on_the_way_go_again_when_the_write_fails(tmp_path, monkeypatch):
    monkeypatch.setattr(Path, "write_bytes", lambda *_: (_ for _ in ()).throw(OSError(5, "Input/output error")))
    with pytest.raises(OSError, match="Input/output"):
        write_folder(tmp_path / "a" / "b" / "rec", FILES)
    assert names(tmp_path) == []


def test_a_move_that_fails_puts_the_old_folder_back(tmp_path, monkeypatch):
    write_folder(tmp_path / "rec", FILES)
    real = Path.rename

    def fails_for_the_new(self, target):
        if self.suffix == ".part":
            raise OSError(5, "Input/output error")
        return real(self, target)

    monkeypatch.setattr(Path, "rename", fails_for_the_new)
    with pytest.raises(OSError, match="Input/output"):
        write_folder(tmp_path / "rec", {"judgement.json": b"new"}, overwrite=True)
    assert names(tmp_path) == ["rec"]
    assert (tmp_path / "rec" / "judgement.json").read_bytes() == b"{}"


def test_replacing_takes_the_old_papers_away(tmp_path):
    write_folder(tmp_path / "rec", FILES)
    write_folder(tmp_path / "rec", {"bench-report.pdf": b"%PDF", "judgement.json": b"new"}, overwrite=True)
    assert names(tmp_path / "rec") == ["bench-report.pdf", "judgement.json"]
    assert names(tmp_path) == ["rec"]


@pytest.mark.parametrize("content", [["notes.txt", "judgement.json"], ["certificate.pdf"], []])
def test_only_an_earlier_result_may_be_replaced(tmp_path, content):
    for name in content:
        (tmp_path / "rec").mkdir(exist_ok=True)
        (tmp_path / "rec" / name).write_text("mine", encoding="utf-8")
    (tmp_path / "rec").mkdir(exist_ok=True)
    with pytest.raises(Refusal, match="not replaced"):
        refuse_existing(tmp_path / "rec", overwrite=True)


def test_a_link_is_never_followed(tmp_path):
    write_folder(tmp_path / "elsewhere", FILES)
    (tmp_path / "rec").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    with pytest.raises(Refusal):
        write_folder(tmp_path / "rec", FILES, overwrite=True)
    assert names(tmp_path) == ["elsewhere", "rec"]
