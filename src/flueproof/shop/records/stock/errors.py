"""What the store refuses.

StockError    a move that may not be, with the reason in words and the field that it hangs on
"""

from __future__ import annotations


class StockError(ValueError):
    """The store refuses; nothing was written. field: of the form, "" for the whole."""

    def __init__(self, words: str, field: str = "") -> None:
        """Keep the words and the field."""
        super().__init__(words)
        self.words, self.field = words, field
