"""Read a bench record: a file or its bytes to a validated Record, or one clear refusal."""

import re
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from flueproof.bench.errors import RecordError
from flueproof.bench.record.decoding import json_object, record_bytes
from flueproof.bench.record.explain import record_error
from flueproof.bench.record.record import FORMAT, Record
from flueproof.bench.record.values.spelling import nearest_word

_FORMAT_NAME, _, _FORMAT_VERSION = FORMAT.partition("/")


def read_record(source: Path | bytes, name: str | None = None) -> Record:
    """Return the bench record in a file or in its bytes; changes nothing.

    source: path of the JSON file, or its content; name: what to call it in errors, the file's name when left out.
    Raises: RecordError (path, message, remedy, name) for whatever the format does not allow.
    Source: the bench record, format 1.
    """
    shown = name if name is not None or isinstance(source, bytes) else Path(source).name
    try:
        data = source if isinstance(source, bytes) else record_bytes(Path(source))
        return record_from_json(json_object(data))
    except RecordError as error:
        error.name = shown
        raise


def record_from_json(tree: dict[str, Any]) -> Record:
    """Return the bench record in a JSON object that is already parsed.

    Raises: RecordError (path, message, remedy).
    Source: the bench record, format 1.
    """
    _refuse_other_formats(tree)
    try:
        return Record.model_validate(tree)
    except ValidationError as error:
        raise record_error(error, Record) from None


def _refuse_other_formats(tree: dict[str, Any]) -> None:
    if "format" not in tree:
        close = nearest_word("format", tree)
        hint = f" in place of {close!r}" if close is not None else " as the first key"
        raise RecordError("$.format", "the key 'format' is missing.", f'Add "format": "{FORMAT}"{hint}.')
    given = tree["format"]
    if given == FORMAT:
        return
    match = re.fullmatch(rf"{re.escape(_FORMAT_NAME)}/([0-9]{{1,9}})", given) if isinstance(given, str) else None
    if match is not None and int(match.group(1)) > int(_FORMAT_VERSION):
        raise RecordError(
            "$.format",
            f"the record has version {match.group(1)} of the format; version {_FORMAT_VERSION} is known here.",
            "Update flueproof.",
        )
    shown = repr(given[:60]) if isinstance(given, str) else "this"
    raise RecordError("$.format", f"{shown} is no format that is known here.", f'A bench record says "{FORMAT}".')
