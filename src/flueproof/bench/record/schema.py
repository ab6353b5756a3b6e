"""The JSON Schema of the bench record, for other programs that write it."""

from typing import Any

from flueproof.bench.record.record import Record


def record_schema() -> dict[str, Any]:
    """Return the JSON Schema (2020-12) of the bench record, format 1.

    What a schema cannot say (references that exist, times in order, as-found before work) the reader checks.
    Source: JSON Schema 2020-12; the bench record, format 1.
    """
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:flueproof:bench-record:1",
        "title": "Flueproof bench record, format 1",
        **{key: value for key, value in Record.model_json_schema().items() if key != "title"},
    }
