"""Serial numbers, phone numbers and names as keys for comparing: the text itself is kept exactly as given."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

_LOOKALIKES: Final = str.maketrans({"O": "0", "Q": "0", "I": "1", "L": "1", "|": "1", "S": "5", "B": "8", "Z": "2"})


def plate_key(text: str) -> str:
    """Return a serial as its key: upper case, letters and digits only, leading zeros kept."""
    return re.sub(r"[^0-9A-Z]", "", unicodedata.normalize("NFKC", text).upper())


def lookalike_key(text: str) -> str:
    """Return the key with letters and digits that look alike on a worn plate folded together (0/O, 1/I/L, 5/S ...)."""
    return plate_key(text).translate(_LOOKALIKES)


def phone_key(text: str) -> str:
    """Return the digits of a phone number."""
    return re.sub(r"\D", "", text)


def name_key(text: str) -> str:
    """Return a name for comparing: lower case, accents off, single spaces."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^0-9a-z]+", " ", (plain or text).lower()).strip()
