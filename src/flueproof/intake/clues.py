"""What was read off a box and the plate in it, as it was typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from typing import Any

_LONGEST = 200


@dataclass(frozen=True, slots=True)
class Clues:
    """The clues; "" where nothing could be read.

    serial: ? for one unreadable character, * for any number of them; name: the sender, firm or person; postmark: the
    town of the postmark; phone: may be a part of it.
    """

    serial: str = ""
    make: str = ""
    model: str = ""
    name: str = ""
    street: str = ""
    postcode: str = ""
    town: str = ""
    postmark: str = ""
    phone: str = ""
    email: str = ""

    @classmethod
    def from_mapping(cls, values: Mapping[str, Any]) -> Clues:
        """Return clues out of a mapping of texts: unknown keys are passed over, long texts are cut."""
        known = {entry.name for entry in fields(cls)}
        texts = {
            key: " ".join(str(value).split())[:_LONGEST] for key, value in values.items() if key in known and value
        }
        return cls(**texts)

    def as_mapping(self) -> dict[str, str]:
        """Return the clues that are there, for keeping."""
        return {key: value for key, value in asdict(self).items() if value}

    @property
    def empty(self) -> bool:
        """Return True when nothing was typed."""
        return not any(value.strip() for value in asdict(self).values())
