"""All that a box tells of its sender, weighed for one owner after the other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.clues import Clues
from flueproof.intake.file.keys import area_of, digits_of, joined, names_words
from flueproof.intake.file.on_file import OwnerOnFile, Place
from flueproof.intake.file.roster import Roster, Totals
from flueproof.intake.recognition import Reason
from flueproof.intake.weighing.contacts import MailCounts, PhoneGround, weigh_email, weigh_phone
from flueproof.intake.weighing.names import NameWeigher
from flueproof.intake.weighing.places import Geography, area_share, weigh_address, weigh_postmark
from flueproof.intake.weighing.unseen import Unseen, address_of_unseen, phone_of_unseen, postmark_of_unseen
from flueproof.intake.weighing.words import one_slip

NOBODY: Final = OwnerOnFile(
    None, ("\u2014",), ("\u2014",), ("000-000-0000",), ("-@-.invalid",), (Place("\u2014", "-----", "\u2014"),)
)
"""An owner to whom no name and no mail address points."""
_WHOLE_PHONE: Final = 10


class SenderWeigher:
    """Weighs name, address, postmark, phone and e-mail of one box."""

    def __init__(
        self, clues: Clues, roster: Roster, owners: Sequence[OwnerOnFile], totals: Totals, assumed: Assumptions
    ) -> None:
        self._clues, self._assumed, self._totals = clues, assumed, totals
        self._owners = owners
        read = names_words(clues.name)
        near = roster.near_words(read) if read else {}
        of_owners = {word for owner in owners for name in (*owner.names, *owner.people) for word in names_words(name)}
        counts = roster.word_counts(of_owners) if read else {}
        self._name = NameWeigher(clues.name, counts, near, owners, totals, assumed)
        self._land = _land(clues, roster, owners, totals)
        digits = digits_of(clues.phone)
        there = roster.exchange_count(digits)
        self._exchange = max(there - 0.5, 0.5) / max(1, totals.owners) if len(digits) >= _WHOLE_PHONE else None
        address = clues.email.strip().lower()
        domain = address.partition("@")[2]
        self._mail = MailCounts(roster.mail_counts(domain), roster.mail_counts(address)) if domain else MailCounts(0, 0)

    def weigh(self, owner: OwnerOnFile) -> tuple[Reason, ...]:
        """Return what each clue to the sender says for an owner."""
        clues, totals, assumed = self._clues, self._totals, self._assumed
        area = area_share(clues, owner, self._land)
        found = (
            self._name.weigh(owner, joined(clues.town)),
            weigh_address(clues, owner, self._land, assumed),
            weigh_postmark(clues, owner, self._land, assumed),
            weigh_phone(clues.phone, owner, PhoneGround(self._exchange, area), assumed),
            weigh_email(clues.email, owner, self._mail, totals.owners, assumed, name=clues.name),
        )
        return tuple(reason for reason in found if reason is not None)

    def of_unseen(self) -> float:
        """Return the logarithm of the mean likelihood ratio of all owners on file that are not looked at.

        No name or mail address points to them; but many of them may live where the box is from.
        """
        clues, assumed = self._clues, self._assumed
        unseen = Unseen(self._owners, self._land)
        name = self._name.weigh(NOBODY, joined(clues.town))
        mail = weigh_email(clues.email, NOBODY, self._mail, self._totals.owners, assumed, name=clues.name)
        ratio = address_of_unseen(clues, unseen, self._land, assumed)
        ratio *= postmark_of_unseen(clues, unseen, self._land, assumed)
        ratio *= phone_of_unseen(clues, assumed)
        return math.log(ratio) + sum(reason.weight for reason in (name, mail) if reason is not None)


def _land(clues: Clues, roster: Roster, owners: Sequence[OwnerOnFile], totals: Totals) -> Geography:
    """Return what is known of the places read, and of the towns and areas of the owners looked at."""
    if not (clues.postcode or clues.town or clues.postmark or clues.street or clues.phone):
        return Geography({}, {}, {}, totals.owners)
    places = [place for owner in owners for place in owner.places]
    postcodes = {clues.postcode} - {""}
    areas = ({area_of(place.postcode) for place in places} | {area_of(clues.postcode)}) - {""}
    towns = ({joined(place.town) for place in places} | {joined(clues.town)}) - {""}
    town_areas = roster.areas_of(clues.town) if clues.town else {}
    if clues.town and not town_areas:
        town = joined(clues.town)
        town_areas = {area_of(place.postcode): 1.0 for place in places if one_slip(town, joined(place.town))}
    return Geography(
        roster.place_counts(postcodes, areas, towns),
        town_areas,
        roster.areas_of(clues.postmark) if clues.postmark else {},
        totals.owners,
    )
