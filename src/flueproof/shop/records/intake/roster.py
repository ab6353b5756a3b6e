"""The shop's file as the ranking asks for it, out of the database."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from typing import Any, Final

from flueproof.intake.clues import Clues
from flueproof.intake.file.file_index import FileIndex
from flueproof.intake.file.keys import area_of, joined
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.file.roster import Plate, PlatesLike, Totals, WordCount
from flueproof.intake.serials.series import Series
from flueproof.shop.records.intake.looking.expected import Expecting, asked_counts, due_around, expecting
from flueproof.shop.records.intake.looking.in_step import the_file
from flueproof.shop.records.intake.looking.rows import owners_read, with_analyzers
from flueproof.shop.records.models import Arrival, OwnerAddress

_POSTMARKS: Final = 2000


class DatabaseRoster:
    """A Roster over the database, for one question: what it read once, it keeps."""

    def __init__(self, today: dt.date) -> None:
        self._today = today
        self._file = the_file()
        self._expected: Expecting = expecting(today)
        self._postmarks: dict[str, Counter[str]] | None = None

    def totals(self, today: dt.date) -> Totals:
        """Return how much is on file."""
        whole = self._file.whole
        return Totals(
            len(whole.keys),
            whole.people,
            len(whole.plates),
            whole.models,
            self._expected.count,
            len(self._expected.called),
            due_around(today),
        )

    def series(self) -> Series:
        """Return the makers' series, learned from all serials on file."""
        return self._file.whole.series

    def candidates_for(self, clues: Clues, today: dt.date) -> Sequence[OwnerOnFile]:  # noqa: ARG002 -- the protocol's
        """Return the owners that the clues point to, with analyzers, open requests and last call."""
        asked, called = asked_counts(self._expected), set(self._expected.called)
        keys, plates = self._file.whole.chosen(clues, asked, self._expected.count, called)
        others, other_plates = self._file.beside.chosen(clues, asked, self._expected.count, called)
        wanted = [int(str(key)) for key in [*others, *(key for key in keys if key not in self._file.changed)]]
        owners = owners_read(wanted)
        in_order = [owners[key] for key in wanted if key in owners]
        known = with_analyzers(
            in_order, {*plates, *other_plates}, dict(self._expected.requests), dict(self._expected.called)
        )
        return [*known, *self._senders(clues)]

    def word_counts(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return how often each word stands in a name."""
        return self._file.whole.word_counts(words)

    def near_words(self, words: Collection[str]) -> Mapping[str, WordCount]:
        """Return the same for these words and those one slip away."""
        return self._file.whole.near_words(words)

    def place_counts(
        self, postcodes: Collection[str], areas: Collection[str], towns: Collection[str]
    ) -> Mapping[str, int]:
        """Return how many owners have an address there."""
        return self._file.whole.place_counts(postcodes, areas, towns)

    def areas_of(self, town: str) -> Mapping[str, float]:
        """Return the areas a postmark points to: those of boxes seen, and of owners in a town of this name."""
        if self._postmarks is None:
            self._postmarks = _postmarks_seen()
        return self._file.whole.areas_of(town, self._postmarks.get(joined(town), Counter()))

    def mail_counts(self, mail: str) -> int:
        """Return how many owners have an address at a domain, or this very address where there is an @."""
        return self._file.whole.mail_counts(mail)

    def exchange_count(self, digits: str) -> int:
        """Return how many owners have a phone number of the same exchange."""
        return self._file.whole.exchange_count(digits)

    def plates_like(self, serial: str, most: int) -> PlatesLike:
        """Return the plates whose serial is most like a reading; of owners that changed, as they were before."""
        return self._file.whole.plates_like(serial, most)

    def _senders(self, clues: Clues) -> list[OwnerOnFile]:
        """Return senders of open requests that are no owner yet, and that the clues point to."""
        unknown = {owner.key: owner for owner in self._expected.unknown}
        plates = [
            Plate(request.key, owner.key, request.make, request.model, request.serial)
            for owner in unknown.values()
            for request in owner.requests
        ]
        asked = {key: len(owner.requests) for key, owner in unknown.items()}
        keys, _ = FileIndex(list(unknown.values()), plates).chosen(clues, asked, self._expected.count, ())
        return [unknown[key] for key in keys]


def _postmarks_seen() -> dict[str, Counter[str]]:
    """Return for each postmark the areas where the owners of the boxes live that had it."""
    found: dict[str, Counter[str]] = {}
    boxes: Any = Arrival.objects.filter(state="known", job__isnull=False).exclude(clues={})
    rows = list(boxes.order_by("-pk").values_list("clues", "job__owner_id")[:_POSTMARKS])
    marked = [(joined(str(clues.get("postmark", ""))), owner) for clues, owner in rows if clues.get("postmark")]
    homes: dict[int, str] = {}
    owners = sorted({owner for _, owner in marked})
    for start in range(0, len(owners), 500):
        places = OwnerAddress.objects.filter(owner__in=owners[start : start + 500]).order_by("-pk")
        homes |= dict(places.values_list("owner_id", "postcode"))
    for postmark, owner in marked:
        if area := area_of(homes.get(owner, "")):
            found.setdefault(postmark, Counter())[area] += 1
    return found
