"""From the bytes of a file to the JSON object in it: size, encoding, syntax, keys that stand twice."""

import json
import os
import stat
from itertools import count
from pathlib import Path
from typing import Any

from flueproof.bench.errors import RecordError
from flueproof.bench.record.locating import json_path

LARGEST_RECORD_BYTES = 64 * 1024 * 1024
MOST_OBJECTS = 50_000
MOST_KEYS = 10_000
_UTF8_MARK = b"\xef\xbb\xbf"
_OTHER_MARKS = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
_READING = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)  # a pipe must not make it wait
_SAVE_AS_UTF8 = "Save the file as UTF-8."


class _TwiceKeyed(dict[str, Any]):
    """A JSON object in which one key stood twice."""

    twice: str


def record_bytes(path: Path) -> bytes:
    """Return the bytes of a record's file, read at most to the size limit.

    Raises: RecordError for a missing, unreadable, too large or other than regular file.
    Source: common practice, no source.
    """
    try:
        descriptor = os.open(path, _READING)
        try:
            mode = os.fstat(descriptor).st_mode
            if stat.S_ISDIR(mode):
                raise IsADirectoryError
            if not stat.S_ISREG(mode):
                raise RecordError("$", "this is no regular file.", "Name the record's JSON file.")
            with os.fdopen(descriptor, "rb", closefd=False) as file:
                return file.read(LARGEST_RECORD_BYTES + 1)
        finally:
            os.close(descriptor)
    except FileNotFoundError:
        raise RecordError("$", "there is no such file.", "Check the name and the folder.") from None
    except IsADirectoryError:
        raise RecordError("$", "this is a folder, not a record.", "Name the record's JSON file in it.") from None
    except PermissionError:
        message = "this is a folder, not a record." if path.is_dir() else "the file may not be read."
        raise RecordError("$", message, "Name a record's JSON file that you are allowed to read.") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise RecordError("$", f"the file cannot be read ({reason}).", "Check the name and the disk.") from None


def json_object(data: bytes) -> dict[str, Any]:
    """Return the JSON object in the bytes.

    Raises: RecordError, path `$` with line and column for syntax, the key's path for a key that stands twice.
    Source: RFC 8259 (JSON), from memory.
    """
    if len(data) > LARGEST_RECORD_BYTES:
        raise RecordError(
            "$",
            f"the file is larger than {LARGEST_RECORD_BYTES // 1024 // 1024} MB, the most that a record may have.",
            "Check that it is a bench record; thin out a trace that was recorded far faster than 1 Hz.",
        )
    text = _decoded(data)
    if not text.strip():
        raise RecordError("$", "the file is empty.", "Name the record's JSON file.")
    tree = _parsed(text)
    if not isinstance(tree, dict):
        raise RecordError(
            "$",
            f"the file holds {_name_of(tree)} at its top, where one JSON object must stand.",
            "Begin with { and the key format; put each record into a file of its own.",
        )
    return tree


def _name_of(tree: Any) -> str:
    names = {list: "a list", str: "a text", bool: "true or false", type(None): "null"}
    return names.get(type(tree), "a number")


def _decoded(data: bytes) -> str:
    for mark, encoding in _OTHER_MARKS:
        if data.startswith(mark):
            raise RecordError("$", f"the file is written in {encoding}, not in UTF-8.", _SAVE_AS_UTF8)
    if b"\x00" in data[:4096]:
        raise RecordError("$", "the file holds zero bytes: UTF-16 without a mark, or no text at all.", _SAVE_AS_UTF8)
    body = data.removeprefix(_UTF8_MARK)
    try:
        return body.decode("utf-8")
    except UnicodeDecodeError as error:
        line = body.count(b"\n", 0, error.start) + 1
        raise RecordError(
            "$",
            f"the file is not UTF-8: byte 0x{body[error.start]:02X} in line {line} "
            "(it looks like Latin-1 or Windows-1252).",
            _SAVE_AS_UTF8,
        ) from None


def _parsed(text: str) -> Any:
    found_twice: list[_TwiceKeyed] = []
    objects = count()

    def keyed(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        if next(objects) >= MOST_OBJECTS or len(pairs) > MOST_KEYS:
            raise _overfull()
        mapping = dict(pairs)
        return mapping if len(mapping) == len(pairs) else _twice_keyed(pairs, found_twice)

    try:
        tree = json.loads(text, object_pairs_hook=keyed)
    except json.JSONDecodeError as error:
        raise RecordError(
            "$",
            f"the file is no valid JSON: {error.msg.lower()} at line {error.lineno}, column {error.colno}.",
            "Correct that place (a missing comma, quote or bracket stands there or just before it).",
        ) from None
    except RecursionError:
        raise RecordError(
            "$", "the JSON is nested too deeply.", "A bench record has seven levels: check the file."
        ) from None
    except ValueError:
        raise RecordError("$", "the file holds a number with thousands of digits.", "Correct the number.") from None
    if found_twice:
        raise _twice_error(tree, found_twice[-1])
    return tree


def _overfull() -> RecordError:
    return RecordError(
        "$",
        f"the file has more than {MOST_OBJECTS} objects, or more than {MOST_KEYS} keys in one; no visit is so long.",
        "Check that it is one bench record: one analyzer, one stay.",
    )


def _twice_keyed(pairs: list[tuple[str, Any]], found_twice: list[_TwiceKeyed]) -> _TwiceKeyed:
    mapping = _TwiceKeyed(pairs)
    seen: set[str] = set()
    for key, _ in pairs:
        if key in seen:
            mapping.twice = key
            break
        seen.add(key)
    found_twice.append(mapping)
    return mapping


def _twice_error(tree: Any, mapping: _TwiceKeyed) -> RecordError:
    place = _place_of(tree, mapping)
    shown = json_path(() if place is None else (*place, mapping.twice))
    return RecordError(shown, f"the key {mapping.twice!r} stands twice in one object.", "Keep one of the two.")


def _place_of(tree: Any, wanted: _TwiceKeyed) -> tuple[str | int, ...] | None:
    waiting: list[tuple[tuple[str | int, ...], Any]] = [((), tree)]
    while waiting:
        place, node = waiting.pop()
        if node is wanted:
            return place
        if isinstance(node, dict):
            waiting.extend(((*place, key), below) for key, below in node.items())
        elif isinstance(node, list):
            waiting.extend(
                ((*place, index), below) for index, below in enumerate(node) if isinstance(below, dict | list)
            )
    return None
