"""Which known word a mistyped one was meant to be."""

import difflib
from collections.abc import Iterable
from itertools import islice

_LONGEST_MISTYPED_WORD = 80
_MOST_KNOWN_WORDS = 200


def nearest_word(given: object, known: Iterable[str]) -> str | None:
    """Return the known word that is spelt most like the given one, None where none comes near.

    Case, hyphens and underscores do not count.
    Source: common practice, no source.
    """
    if not isinstance(given, str) or len(given) > _LONGEST_MISTYPED_WORD:
        return None
    by_folded = {_folded(word): word for word in islice(known, _MOST_KNOWN_WORDS)}
    close = difflib.get_close_matches(_folded(given), by_folded, n=1, cutoff=0.7)
    return by_folded[close[0]] if close else None


def _folded(word: str) -> str:
    return word.lower().replace("_", "").replace("-", "").replace(" ", "")
