"""The owners on file that were not looked at one by one: what the place of a box says for them on the average.

In a large file a town has more owners than are looked at. Each of the others is unlikely, all of them together are
not: a clue that says no more than where a box is from speaks for them as much as for a stranger.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.clues import Clues
from flueproof.intake.file.keys import area_of, digits_of, joined
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.weighing.places import Geography, read_areas

_MISSED = 0.01
_OTHER_STREET = 0.1
_LEAST = 2


class Unseen:
    """Which share of the owners of a place was not looked at."""

    def __init__(self, owners: Sequence[OwnerOnFile], land: Geography) -> None:
        self._land = land
        self._seen = Counter[str]()
        for owner in owners:
            if owner.on_file:
                self._seen.update(
                    {key for home in owner.places for key in (home.postcode, area_of(home.postcode), joined(home.town))}
                )

    def share(self, place: str) -> float:
        """Return the share of a postcode's, area's or town's owners that were not looked at; 0 where nobody lives."""
        there = self._land.counts.get(place, 0)
        return max(0.0, 1.0 - self._seen[place] / there) if there else 0.0


def address_of_unseen(clues: Clues, unseen: Unseen, land: Geography, assumed: Assumptions) -> float:
    """Return the mean likelihood ratio of the address read for owners that were not looked at."""
    if not (clues.street or clues.postcode or clues.town):
        return 1.0
    read = read_areas(clues, land)
    near = sum(share * unseen.share(area) for area, share in read.items()) if read else 1.0
    place = clues.postcode if land.counts.get(clues.postcode) else joined(clues.town)
    # Who lives at this street and number was looked at.
    home = unseen.share(place) * (_OTHER_STREET if clues.street else 0.93) + _MISSED
    return assumed.at_home * home + assumed.in_area * near + 1.0 - assumed.at_home - assumed.in_area


def postmark_of_unseen(clues: Clues, unseen: Unseen, land: Geography, assumed: Assumptions) -> float:
    """Return the same for the postmark."""
    total = sum(land.postmark_areas.values())
    if not clues.postmark or read_areas(clues, land) or total <= 0:
        return 1.0
    there = sum(weight * unseen.share(area) for area, weight in land.postmark_areas.items()) / total
    return assumed.postmark_area * there + 1.0 - assumed.postmark_area


def phone_of_unseen(clues: Clues, assumed: Assumptions) -> float:
    """Return the same for a phone number: it is not on file for them, but may be of their exchange."""
    digits = digits_of(clues.phone)
    if len(digits) <= _LEAST:
        return 1.0
    return 1.0 - assumed.phone_on_file
