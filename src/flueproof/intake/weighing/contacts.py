"""Phone numbers and e-mail addresses against those of an owner."""

from __future__ import annotations

import math
from typing import NamedTuple

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.file.keys import digits_of, words_of
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.recognition import Reason

_WHOLE = 7
_LEAST = 3
_USUAL_DOMAIN = 0.02
_WITH_PREFIX = 10
_IN_AN_EXCHANGE = 10_000.0


class MailCounts(NamedTuple):
    """How many owners have an address at a domain, and how many have this very address."""

    domain: int
    address: int


class PhoneGround(NamedTuple):
    """What a phone number is up against.

    exchange: share of owners with a number of the exchange read, None where only a part was read; area: share of
    owners that live where this one does, None when the box is known to be from there, so that a number of the same
    exchange says nothing more.
    """

    exchange: float | None
    area: float | None

    def chance(self, assumed: Assumptions) -> float:
        """Return how probable it is that a stranger's number is a certain one: one of the ten thousand of its exchange.

        Where many owners are, some have nearly or quite the same number by chance.
        """
        exchange = assumed.phone_prefix * (1.0 if self.area is None else self.area)
        if self.exchange is not None:
            exchange = max(self.exchange, exchange) if self.area is None else self.exchange
        return max(1e-7, exchange / _IN_AN_EXCHANGE)


def weigh_phone(phone: str, owner: OwnerOnFile, ground: PhoneGround, assumed: Assumptions) -> Reason | None:
    """Return what a phone number, or a part of one, says."""
    read = digits_of(phone)
    own = [digits for entry in owner.phones if len(digits := digits_of(entry)) >= _WHOLE]
    if len(read) < _LEAST or not own:
        return None
    chance = ground.chance(assumed)
    best = max((_one_phone(read, digits, chance), place) for place, digits in enumerate(own))
    share = assumed.phone_on_file / len(own) * sum(_one_phone(read, digits, chance) for digits in own)
    weight = math.log(share + (1.0 - assumed.phone_on_file) * _prefix_ratio(read, own, ground.area, assumed))
    words = (
        f"phone {phone}: on file is {owner.phones[best[1]]}" if best[0] > 1 else f"phone {phone}: not on file for them"
    )
    return Reason("phone", words, weight)


def _prefix_ratio(read: str, own: list[str], area: float | None, assumed: Assumptions) -> float:
    """Return the likelihood ratio of the beginning of a whole number that is not on file."""
    if len(read) < _WITH_PREFIX:
        return 1.0
    same = any(read[:-_WHOLE] == digits[:-_WHOLE] for digits in own)
    if area is None:
        return 1.0 if same else 1.0 - assumed.phone_prefix
    return assumed.phone_prefix / area + 1.0 - assumed.phone_prefix if same else 1.0 - assumed.phone_prefix


def _one_phone(read: str, own: str, chance: float) -> float:
    """Return the likelihood ratio of a number for one on file; chance: that a stranger's is this one."""
    longest = min(len(read), len(own))
    if longest >= _WHOLE:
        if read[-longest:] == own[-longest:]:
            return 0.75 / chance
        wrong = sum(a != b for a, b in zip(read[-longest:], own[-longest:], strict=True))
        return min(400.0, 0.06 / (9.0 * longest) / chance) if wrong == 1 else 0.0
    if own.endswith(read):
        return min(0.6 * 10.0 ** len(read), 0.75 / chance)
    return 10.0 ** (len(read) - 2) if read in own else 0.0


def weigh_email(
    email: str, owner: OwnerOnFile, counts: MailCounts, owners: int, assumed: Assumptions, *, name: str
) -> Reason | None:
    """Return what an e-mail address says; counts: owners that have it, or another at its domain; name: the one read."""
    local, _, domain = email.strip().lower().partition("@")
    if not domain:
        return None
    own = [entry.strip().lower() for entry in owner.emails]
    domains = {entry.partition("@")[2] for entry in own}
    share = max(counts.domain - 0.5, 0.3) / max(1, owners)
    person = _person_ratio(local, owner)
    if f"{local}@{domain}" in own:
        # At a provider that many use, an address such as office@ may be that of several.
        rare = 1000.0 + 10.0 * owners if share < _USUAL_DOMAIN else max(1, owners) / max(counts.address - 0.5, 0.3)
        weight = math.log(1.0 + assumed.email_on_file / len(own) * rare)
        return Reason("e-mail", f"{email} is on file", weight)
    if domain in domains:
        weight = math.log(max(assumed.email_domain / share, 1.2) + 0.3 * person)
        return Reason("e-mail", f"others of theirs have mail at {domain}", weight)
    if share >= _USUAL_DOMAIN:
        # A provider that many use: anybody has an address there.
        weight = math.log((0.7 if own else 0.9) + (0.0 if name else 0.15 * person))
    else:
        like = _like_a_name(domain, owner.names)
        # A domain made of the name on the label says what that says already: a stranger of this name has it too.
        of_label = 1.0 if _like_a_name(domain, (name,)) else 8.0
        weight = math.log((of_label if name else 40.0) if like else 0.15 if own else 0.4)
        if like:
            return Reason("e-mail", f"{domain} is like their name", weight)
    words = f"{email} is like a person of theirs" if person > 0 and weight > 0 else f"{email}: not on file for them"
    return Reason("e-mail", words, weight)


def _like_a_name(domain: str, names: tuple[str, ...]) -> bool:
    """Return True when a domain is the beginning of a name."""
    stem = "".join(words_of(domain.rpartition(".")[0]))
    return len(stem) > 4 and any("".join(words_of(name)).startswith(stem) for name in names)


def _person_ratio(local: str, owner: OwnerOnFile) -> float:
    """Return how well the part before the @ fits a person: surname with first name or initial."""
    for person in owner.people:
        words = words_of(person)
        if len(words) > 1 and local.replace(".", "") in {words[0] + words[-1], words[0][0] + words[-1]}:
            return 60.0
    return 0.0
