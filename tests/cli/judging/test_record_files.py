"""What names on the command line stand for."""

from flueproof.cli.judging.record_files import EmptyFolder, record_files, refuse_same_names


def test_a_folder_is_its_json_files_sorted_and_no_folder_below(tmp_path):
    for name in ("b.json", "a.json", "C.JSON", "notes.txt"):
        (tmp_path / name).write_text("{}", encoding="utf-8")
    (tmp_path / "d.json").mkdir()
    (tmp_path / "d.json" / "e.json").write_text("{}", encoding="utf-8")
    assert [file.name for file in record_files([tmp_path])] == ["C.JSON", "a.json", "b.json"]


def test_files_keep_the_order_given_also_between_folders(tmp_path):
    (tmp_path / "x").mkdir()
    (tmp_path / "x" / "b.json").write_text("{}", encoding="utf-8")
    given = [tmp_path / "z.json", tmp_path / "x", tmp_path / "a.txt"]
    assert [file.name for file in record_files(given)] == ["z.json", "b.json", "a.txt"]


def test_an_empty_folder_is_an_answer_of_its_own(tmp_path):
    (only,) = record_files([tmp_path])
    assert isinstance(only, EmptyFolder)
    assert "*.json" in only.fault.message


def test_a_second_record_of_a_name_is_refused_whatever_its_case(tmp_path):
    files = [tmp_path / "a" / "Rec.json", tmp_path / "b" / "rec.JSON", tmp_path / "c" / "rec", tmp_path / "d.json"]
    kept = refuse_same_names(files)
    assert [isinstance(one, EmptyFolder) for one in kept] == [False, True, True, False]
