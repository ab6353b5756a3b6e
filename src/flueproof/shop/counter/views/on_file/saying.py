"""What the page says back after something on file was saved."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from flueproof.bench.errors import RecordError
from flueproof.shop.records.keeping.versioned_form import ConflictRow


def saved_in_words(also_changed: Sequence[ConflictRow], carried: Collection[str] = ()) -> str:
    """Return "Saved." with what somebody else changed meanwhile, and which bench records took it over."""
    said = ["Saved."]
    if carried:
        said.append(f"The open bench record of {', '.join(carried)} has it too.")
    if also_changed:
        fields = "; ".join(f"{row.label}: {row.theirs}" for row in also_changed)
        said.append(f"Somebody else changed something here meanwhile, and it stays: {fields}.")
    return " ".join(said)


def record_refused(error: RecordError) -> str:
    """Return why a bench record does not take a change."""
    return f"An open bench record cannot take this: {error.message} {error.remedy}"
