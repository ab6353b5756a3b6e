"""What a box tells of its sender: label, postmark, phone, e-mail."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.simulate.arrivals.country import Town
from flueproof.simulate.arrivals.figures import figure, words
from flueproof.simulate.arrivals.filing import World, mail_of
from flueproof.simulate.arrivals.misreading import abbreviated, digit_wrong, misspelt
from flueproof.simulate.arrivals.roster import Firm, Place


@dataclass(frozen=True, slots=True)
class SenderSeen:
    """What stands on the box or the letter in it; "" where nothing does."""

    name: str
    street: str
    postcode: str
    town: str
    postmark: str
    phone: str
    email: str


def sender_seen(world: World, firm: Firm) -> SenderSeen:
    """Return the clues to a sender, on file or not."""
    chance = world.chance
    home = world.country.town_of(firm.places[0])
    place = _place(world, firm, home)
    labelled = chance.random() >= figure("sender.no_label")
    name = _name(world, firm) if labelled and chance.random() < figure("sender.name") else ""
    street, postcode, town = _written(world, place) if labelled else ("", "", "")
    mailed = world.country.town_of(place)
    postmark = world.postmark(mailed) if chance.random() < figure("postmark.there") else ""
    phone = _phone(world, firm, home) if chance.random() < figure("phone.there") else ""
    email = _email(world, firm) if chance.random() < figure("email.there") else ""
    return SenderSeen(name, street, postcode, town, postmark, phone, email)


def _name(world: World, firm: Firm) -> str:
    chance, at = world.chance, world.chance.random()
    for kind in ("misspelt", "abbreviated", "person", "person_unknown", "former"):
        at -= figure(f"sender.{kind}")
        if at < 0:
            break
    else:
        return firm.name
    if kind == "misspelt":
        return misspelt(firm.name, chance)
    if kind == "abbreviated":
        return abbreviated(firm.name, chance)
    if kind == "former":
        return chance.choice([*firm.other_names, *firm.hidden_names] or [firm.name])
    person = chance.choice(firm.people) if kind == "person" else world.names.person()
    if chance.random() < figure("sender.initials"):
        return f"{person[0]}. {person.split(maxsplit=1)[1]}"
    return person


def _place(world: World, firm: Firm, home: Town) -> Place:
    """Return where the box says it is from."""
    at = world.chance.random()
    if at < figure("address.other_site"):
        return world.country.place(world.country.neighbor(home), world.names)
    if at > 1 - figure("address.elsewhere"):
        return world.country.place(world.country.town(), world.names)
    return world.chance.choice((firm.places[0], *firm.places))


def _written(world: World, place: Place) -> tuple[str, str, str]:
    chance = world.chance
    town = place.town if chance.random() < figure("address.town") else ""
    postcode = place.postcode if chance.random() < figure("address.postcode") else ""
    street = place.street if chance.random() < figure("address.street") else ""
    if town and chance.random() < figure("address.town_misspelt"):
        town = misspelt(town, chance)
    if postcode and chance.random() < figure("address.postcode_wrong"):
        postcode = digit_wrong(postcode, chance)
    if street and chance.random() < figure("address.street_number_wrong"):
        street = chance.choice((digit_wrong(street, chance), street.split(maxsplit=1)[1]))
    return street, postcode, town


def _phone(world: World, firm: Firm, home: Town) -> str:
    chance = world.chance
    if firm.phones and chance.random() < figure("phone.on_file"):
        phone = chance.choice(firm.phones)
    else:
        phone = world.country.phone(home)
    if chance.random() < figure("phone.digit_wrong"):
        phone = digit_wrong(phone, chance)
    if chance.random() < figure("phone.part"):
        digits = "".join(sign for sign in phone if sign.isdigit())
        return digits[-chance.randint(4, 7) :]
    return phone


def _email(world: World, firm: Firm) -> str:
    chance, at = world.chance, world.chance.random()
    if firm.emails and at < figure("email.on_file"):
        return chance.choice(firm.emails)
    if at < figure("email.on_file") + figure("email.same_domain"):
        return mail_of(world.names.person(), firm.own_domain, chance)
    person = chance.choice((*firm.people, world.names.person()))
    return mail_of(person, chance.choice(words()["free_mail"]), chance)
