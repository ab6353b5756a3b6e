"""Rows set aside in a file of our own, so that a long reading of the list does not hold the database."""

from __future__ import annotations

import pickle
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from itertools import islice
from typing import IO

from flueproof.shop.records.importing.reading.table import Row

_AT_ONCE, _IN_MEMORY = 1000, 4 * 2**20


@contextmanager
def set_aside(rows: Iterable[Row]) -> Iterator[Iterator[Row]]:
    """Read all rows into a file without a name, and give them back from there; at most 4 MB of it in memory.

    Raises: what reading the rows raises, before anything is given back.
    """
    with tempfile.SpooledTemporaryFile(max_size=_IN_MEMORY) as aside:
        left = iter(rows)
        while batch := list(islice(left, _AT_ONCE)):
            pickle.dump(batch, aside, protocol=pickle.HIGHEST_PROTOCOL)
        aside.seek(0)
        yield _given_back(aside)


def _given_back(aside: IO[bytes]) -> Iterator[Row]:
    while True:
        try:
            yield from pickle.load(aside)  # noqa: S301 -- written by ourselves above, into a file without a name
        except EOFError:
            return
