"""Files and bytes that are no record at all."""

import os
from pathlib import Path

import pytest

from flueproof.bench.errors import RecordError
from flueproof.bench.record import decoding
from flueproof.bench.record.reader import read_record

WITH_UNIX_PIPES = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")


def refusal_of(path):
    with pytest.raises(RecordError) as caught:
        read_record(path)
    assert caught.value.path == "$"
    assert caught.value.remedy
    return caught.value.message


def test_a_missing_file_is_said_to_be_missing(tmp_path):
    assert refusal_of(tmp_path / "none.json") == "there is no such file."


def test_a_folder_is_no_record(tmp_path):
    assert "folder" in refusal_of(tmp_path)


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="this system does not list open files")
def test_no_file_stays_open_whether_read_or_refused(good_bytes, tmp_path):
    (tmp_path / "good.json").write_bytes(good_bytes)
    before = len(list(Path("/proc/self/fd").iterdir()))
    assert read_record(tmp_path / "good.json").job
    assert refusal_of(tmp_path)
    assert refusal_of(tmp_path / "none.json")
    assert len(list(Path("/proc/self/fd").iterdir())) == before


def test_an_unreadable_file_is_said_to_be_unreadable(good_bytes, tmp_path, monkeypatch):
    def forbidden(*_):
        raise PermissionError(13, "Permission denied")

    path = tmp_path / "locked.json"
    path.write_bytes(good_bytes)
    monkeypatch.setattr(decoding.os, "open", forbidden)
    assert refusal_of(path) == "the file may not be read."


def test_a_failing_disk_is_named(tmp_path, monkeypatch):
    def broken(*_):
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(decoding.os, "open", broken)
    assert "Input/output error" in refusal_of(tmp_path / "record.json")


def test_a_file_name_that_no_system_allows_is_refused():
    assert "cannot be read" in refusal_of(Path("a\0b.json"))


@WITH_UNIX_PIPES
def test_a_pipe_is_refused_without_waiting_for_its_other_end(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    assert refusal_of(tmp_path / "pipe") == "this is no regular file."


def test_a_file_beyond_the_size_limit_is_refused_before_it_is_read_whole(good_bytes, tmp_path, monkeypatch):
    path = tmp_path / "huge.json"
    path.write_bytes(good_bytes + b" " * 1000)
    monkeypatch.setattr(decoding, "LARGEST_RECORD_BYTES", len(good_bytes) - 1)
    assert "larger than" in refusal_of(path)
    assert len(decoding.record_bytes(path)) == len(good_bytes)


def test_the_size_limit_is_64_megabytes(refused):
    error = refused(b" " * (64 * 1024 * 1024 + 1))
    assert "64 MB" in error.message


def test_a_file_at_the_size_limit_is_read(good_bytes, monkeypatch):
    monkeypatch.setattr(decoding, "LARGEST_RECORD_BYTES", len(good_bytes))
    assert read_record(good_bytes).job == "J-2026-00042"


@pytest.mark.parametrize("empty", [b"", b" \n\t", b"\xef\xbb\xbf"])
def test_an_empty_file_is_said_to_be_empty(empty, refused):
    assert refused(empty).message == "the file is empty."


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_a_wide_encoding_is_named(encoding, good_bytes, refused):
    error = refused(good_bytes.decode().encode(encoding))
    assert "UTF-" in error.message
    assert error.remedy == "Save the file as UTF-8."


def test_latin_1_is_named_with_its_line(good_bytes, refused):
    broken = good_bytes.replace(b"hose was kinked", "hose was knickt, süß".encode("latin-1"))
    line = broken[: broken.index(b"\xfc")].count(b"\n") + 1
    error = refused(broken)
    assert f"byte 0xFC in line {line} " in error.message
    assert "Latin-1" in error.message


def test_a_utf_8_mark_is_accepted(good_bytes):
    assert read_record(b"\xef\xbb\xbf" + good_bytes) == read_record(good_bytes)


def test_a_syntax_error_has_line_and_column(refused):
    error = refused(b'{\n  "format": "flueproof-bench-record/1"\n  "job": 1}')
    assert error.path == "$"
    assert "line 3, column 3" in error.message


def test_a_file_cut_short_is_a_syntax_error(good_bytes, refused):
    assert "line" in refused(good_bytes[:-40]).message


def test_two_records_in_one_file_are_refused(good_bytes, refused):
    assert "extra data at line" in refused(good_bytes + good_bytes).message


@pytest.mark.parametrize("top", [b"[]", b"1", b'"text"', b"null", b"true"])
def test_only_an_object_stands_at_the_top(top, refused):
    assert "one JSON object must stand" in refused(top).message


@pytest.mark.parametrize("nested", [b"[" * 200_000, b'{"a":' * 200_000, b"[" * 50_000 + b"]" * 50_000])
def test_deep_nesting_is_refused(nested, refused):
    assert refused(nested).path == "$"


def test_a_moderately_nested_unknown_key_is_refused_by_its_path(good, refused):
    node = good["surprise"] = []
    for _ in range(300):
        node.append([])
        node = node[0]
    assert refused(good).path == "$.surprise"


def test_a_number_with_thousands_of_digits_is_refused(good_bytes, refused):
    error = refused(good_bytes.replace(b'"humidity_pct": 41', b'"humidity_pct": ' + b"4" * 6000))
    assert "thousands of digits" in error.message


@pytest.mark.parametrize(
    ("given", "twice", "path"),
    [
        (b'"job": "J-2026-00042"', b'"job": "J-1", "job": "J-2026-00042"', "$.job"),
        (b'"attempt": 1', b'"attempt": 2, "attempt": 1', "$.steps[8].attempt"),
        (b'"can-co-100": {', b'"cyl-co-500": {', "$.references['cyl-co-500']"),
    ],
)
def test_a_key_that_stands_twice_is_refused_by_its_path(given, twice, path, good_bytes, refused):
    assert given in good_bytes
    error = refused(good_bytes.replace(given, twice))
    assert error.path == path
    assert "twice" in error.message


def test_more_objects_than_any_visit_has_are_refused_at_once(good, refused):
    good["steps"] = [{}] * (decoding.MOST_OBJECTS + 1)
    assert "no visit is so long" in refused(good).message


def test_more_keys_than_any_object_has_are_refused_at_once(good, refused):
    good.update({f"k{number}": number for number in range(decoding.MOST_KEYS)})
    assert "no visit is so long" in refused(good).message


def test_a_visit_of_a_thousand_steps_is_read(good, read, step):
    good["steps"].extend({**step("note", text="looked"), "id": f"n{number}"} for number in range(1000))
    assert len(read(good).steps) == 1011
