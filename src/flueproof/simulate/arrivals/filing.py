"""Drawing what a shop has on file: owners, their analyzers, who called, what was asked for."""

from __future__ import annotations

import datetime as dt
import random

from flueproof.simulate.arrivals.country import Country, Town
from flueproof.simulate.arrivals.figures import figure, words
from flueproof.simulate.arrivals.naming import Names
from flueproof.simulate.arrivals.plates import Plates
from flueproof.simulate.arrivals.roster import Asked, Called, Firm, Plate, ShopFile

TODAY = dt.date(2026, 11, 25)


class World:
    """The invented world a roster is drawn from; strangers come from the same world.

    size: analyzers on file; seed: all chance of the world.
    Source: figures.toml, our own assumptions.
    """

    def __init__(self, size: int, seed: int) -> None:
        self.chance = random.Random(f"arrivals world {size} {seed}")  # noqa: S311 -- a simulation
        self.country = Country(self.chance, size)
        self.names = Names(self.chance, max(60, round(6 * size**0.55)))
        self.plates = Plates(self.chance)
        self.file = ShopFile(TODAY, [], [], [], [], [])
        while len(self.file.analyzers) < size:
            self._add_owner(size - len(self.file.analyzers))
        self.draw_state()

    def firm(self, key: int = -1) -> tuple[Firm, Town]:
        """Return an owner as the shop would have it on file, and its town."""
        chance, country, names = self.chance, self.country, self.names
        town = country.town()
        name, founder = names.firm(town.name)
        people = [names.person(founder), *(names.person() for _ in range(chance.choice((0, 1, 1, 2, 3))))]
        places = [country.place(town, names)]
        if chance.random() < figure("file.second_address"):
            places.append(country.place(country.neighbor(town), names))
        phones = [country.phone(town)] if chance.random() < figure("file.phone") else []
        phones += [country.phone(town) for _ in people if chance.random() < figure("file.person_phone")]
        free = chance.random() < figure("file.free_mail")
        domain = chance.choice(words()["free_mail"]) if free else f"{_letters(name, chance)}.example"
        emails = [mail_of(person, domain, chance) for person in people if chance.random() < figure("file.email")]
        former = [names.firm(town.name)[0]] if chance.random() < figure("file.former_name") else []
        known = chance.random() < figure("file.former_on_file")
        firm = Firm(
            key,
            name,
            tuple(people),
            tuple(places),
            tuple(phones),
            tuple(emails),
            tuple(former if known else ()),
            tuple(() if known else former),
            domain,
        )
        return firm, town

    def plate(self, town: Town, key: int = -1, owner: int = -1) -> Plate:
        """Return an analyzer sold in a town's area."""
        return Plate(key, owner, *self.plates.draw(town.area))

    def _add_owner(self, most: int) -> None:
        firm, town = self.firm(len(self.file.owners))
        mean = figure("file.analyzers_per_owner")
        count = min(most, 60, max(1, round(self.chance.lognormvariate(0.0, 1.0) * mean / 1.65)))
        last: Plate | None = None
        for _ in range(count):
            key = len(self.file.analyzers)
            if last is not None and self.chance.random() < figure("file.bought_together"):
                plate = Plate(key, firm.key, *self.plates.following(last.make, last.model, town.area))
            else:
                plate = self.plate(town, key, firm.key)
            last = plate
            firm.analyzers.append(key)
            self.file.analyzers.append(plate)
        self.file.owners.append(firm)

    def draw_state(self) -> None:
        """Draw anew what changes from week to week: due days, calls, open requests, postmarks of the past."""
        chance, file = self.chance, self.file
        for plate in file.analyzers:
            plate.next_due, plate.last_seen = _due(chance)
        callers = max(1, round(figure("state.callers") * len(file.owners)))
        file.calls = [
            Called(owner.key, TODAY - dt.timedelta(days=chance.randrange(14)))
            for owner in chance.sample(file.owners, min(callers, len(file.owners)))
        ]
        asked = max(1, round(figure("state.requests_per_analyzer") * len(file.analyzers)))
        file.requests = [self._asked() for _ in range(asked)]
        file.seen_postmarks = [self._seen() for _ in range(min(2000, len(file.analyzers)))]

    def _asked(self) -> Asked:
        plate = self.chance.choice(self.file.analyzers)
        named = self.chance.random() < figure("state.request_names_analyzer")
        since = TODAY - dt.timedelta(days=self.chance.randrange(1, 15))
        return Asked(plate.owner, plate.key if named else None, since)

    def _seen(self) -> tuple[str, str]:
        place = self.chance.choice(self.file.owners).places[0]
        return self.postmark(self.country.town_of(place)), place.postcode

    def postmark(self, town: Town) -> str:
        """Return the postmark of a box that was mailed in a town."""
        at = self.chance.random()
        if at < figure("postmark.sorting"):
            return town.sorting
        return self.country.town().name if at > 1 - figure("postmark.elsewhere") else town.name


def mail_of(person: str, domain: str, chance: random.Random) -> str:
    """Return an e-mail address of a person."""
    first, last = person.lower().replace("'", "").split()[:2]
    return f"{chance.choice((first, f'{first}.{last}', f'{first[0]}{last}', 'office', 'service'))}@{domain}"


def _letters(name: str, chance: random.Random) -> str:
    """Return the part of a domain that a firm's name makes."""
    parts = "".join(letter for letter in name.lower() if letter.isalnum() or letter == " ").split()
    parts = [part for part in parts if part not in {"inc", "llc", "co", "and"}]
    return chance.choice(("".join(parts), "".join(parts[:2]), "-".join(parts[:2])))


def _due(chance: random.Random) -> tuple[dt.date | None, dt.date]:
    """Return the next due day (None when none was agreed) and the day of the last visit."""
    if chance.random() < figure("state.sleeping"):
        last = TODAY - dt.timedelta(days=chance.randrange(730, 2200))
    else:
        last = TODAY - dt.timedelta(days=chance.randrange(5, 400))
    due = None if chance.random() < figure("state.no_due") else last + dt.timedelta(days=365)
    return due, last
