"""Street, postcode, town and postmark against the addresses of an owner."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from rapidfuzz.distance import OSA

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.clues import Clues
from flueproof.intake.file.keys import area_of, joined, words_of
from flueproof.intake.file.on_file import OwnerOnFile, Place
from flueproof.intake.recognition import Reason
from flueproof.intake.weighing.words import one_slip


@dataclass(frozen=True, slots=True)
class Geography:
    """What the file knows of the places that were read.

    counts: owners with an address in a postcode, area or town; town_areas and postmark_areas: areas that the town and
    the postmark point to, as weights; owners: on file.
    """

    counts: Mapping[str, int]
    town_areas: Mapping[str, float]
    postmark_areas: Mapping[str, float]
    owners: int

    def share(self, key: str) -> float:
        """Return the share of owners in a place; of a place never seen, less than one owner."""
        return max(self.counts.get(key, 0) - 0.5, 0.5) / max(1, self.owners)


def weigh_address(clues: Clues, owner: OwnerOnFile, land: Geography, assumed: Assumptions) -> Reason | None:
    """Return what the sender's address says for an owner, or None when none was read or none is on file."""
    if not (clues.street or clues.postcode or clues.town) or not owner.places:
        return None
    homes = [_at_home(clues, place, land) for place in owner.places]
    best = max(range(len(homes)), key=lambda at: homes[at])
    areas = {area_of(place.postcode) for place in owner.places} - {""}
    read = read_areas(clues, land)
    near = sum(share / land.share(area) for area, share in read.items() if area in areas) if read else 1.0
    elsewhere = 1.0 - assumed.at_home - assumed.in_area
    home = 0.8 * homes[best] + 0.2 * sum(homes) / len(homes)
    weight = math.log(assumed.at_home * home + assumed.in_area * near + elsewhere)
    return Reason("address", _in_words(clues, owner.places[best], homes[best], near, read), weight)


def weigh_postmark(clues: Clues, owner: OwnerOnFile, land: Geography, assumed: Assumptions) -> Reason | None:
    """Return what the postmark says; where an address was read the postmark goes with that, and says nothing more."""
    if not clues.postmark or not owner.places or read_areas(clues, land):
        return None
    areas = {area_of(place.postcode) for place in owner.places} - {""}
    total = sum(land.postmark_areas.values())
    if not areas or total <= 0:
        return None
    # A weight of two towards anywhere: few boxes seen say little.
    fits = sum(land.postmark_areas.get(area, 0.0) + 2.0 * land.share(area) for area in areas) / (total + 2.0)
    ratio = fits / sum(land.share(area) for area in areas)
    weight = math.log(assumed.postmark_area * ratio + 1.0 - assumed.postmark_area)
    what = "mail from their area carries it" if weight > 0 else "mail from their area seldom carries it"
    return Reason("postmark", f"postmark {clues.postmark}: {what}", weight)


def read_areas(clues: Clues, land: Geography) -> dict[str, float]:
    """Return the areas that the address points to, with probabilities; empty where it tells none."""
    area = area_of(clues.postcode)
    if area and (land.counts.get(area) or not clues.town):
        return {area: 1.0}
    total = sum(land.town_areas.values())
    return {known: weight / total for known, weight in land.town_areas.items()} if total else {}


def area_share(clues: Clues, owner: OwnerOnFile, land: Geography) -> float | None:
    """Return the share of owners that live in an owner's area, or None when the address read is there, or unknown."""
    areas = {area_of(place.postcode) for place in owner.places} - {""}
    if not areas or areas & set(read_areas(clues, land)):
        return None
    return min(1.0, sum(land.share(area) for area in areas))


def _at_home(clues: Clues, place: Place, land: Geography) -> float:
    """Return P(address read | it is this one) / P(address read | a stranger's)."""
    postcode, own_code = _code(clues.postcode), _code(place.postcode)
    town, own_town = joined(clues.town), joined(place.town)
    same_town = bool(town) and town == own_town
    near_town = bool(town) and not same_town and (one_slip(town, own_town) or _begins(town, own_town))
    ratio = 1.0
    if postcode and own_code and postcode == own_code:
        ratio = 0.94 / land.share(postcode) * (1.0 if same_town or not town else 0.8 if near_town else 0.03)
    elif postcode and own_code:
        slip = OSA.distance(postcode, own_code, score_cutoff=1) <= 1
        if same_town:
            ratio = (0.05 if slip else 0.01) / (0.1 * land.share(town))
        elif near_town:
            ratio = (0.05 * 0.06 if slip else 0.0005) / (0.006 * land.share(own_town))
        else:
            ratio = min(1.0, 0.04 / 45.0 / land.share(postcode)) if slip and not town else 0.001
    elif same_town:
        ratio = 0.93 / land.share(town)
    elif near_town:
        ratio = 0.5 / land.share(own_town)
    elif town and own_town:
        ratio = 0.02
    return ratio * _street(clues.street, place.street)


def _street(read: str, own: str) -> float:
    """Return the likelihood ratio of a street, within a town or postcode."""
    if not read or not own:
        return 1.0
    number, name = _split(read)
    own_number, own_name = _split(own)
    same = name == own_name or one_slip("".join(name), "".join(own_name))
    if not same:
        return 0.1 if name[0] and name[0] == own_name[0] else 0.03
    if number and own_number:
        return 300.0 if number == own_number else 1.0
    return 10.0


def _split(street: str) -> tuple[str, list[str]]:
    words = [word for word in words_of(street) if not word.isdigit()]
    number = re.search(r"\d+", street)
    return (number[0] if number else ""), words or [""]


def _code(postcode: str) -> str:
    return re.sub(r"[\s-]", "", postcode).upper()


def _begins(town: str, own: str) -> bool:
    return len(town) >= 4 and (own.startswith(town) or (bool(own) and town.startswith(own)))


def _in_words(clues: Clues, place: Place, home: float, near: float, read: Mapping[str, float]) -> str:
    written = ", ".join(part for part in (clues.street, clues.postcode, clues.town) if part)
    if home > 1.0:
        own = ", ".join(part for part in (place.street, place.postcode, place.town) if part)
        return f"{written}: on file is {own}"
    if read and near > 1.0:
        return f"{written}: in the area of their address"
    return f"{written}: not where they are on file"
