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


class MailCounts(NamedTuple):
    """How many owners have an address at a domain, and how many have this very address."""

    domain: int
    address: int


def weigh_phone(
    phone: str, owner: OwnerOnFile, owners: int, assumed: Assumptions, *, area: float | None
) -> Reason | None:
    """Return what a phone number, or a part of one, says.

    owners: on file; area: share of owners that live where this one does, None when the box is known to be from there,
    so that a number of the same exchange says nothing more.
    """
    read = digits_of(phone)
    own = [digits for entry in owner.phones if len(digits := digits_of(entry)) >= _WHOLE]
    if len(read) < _LEAST or not own:
        return None
    best = max((_one_phone(read, digits, owners), place) for place, digits in enumerate(own))
    share = assumed.phone_on_file / len(own) * sum(_one_phone(read, digits, owners) for digits in own)
    weight = math.log(share + (1.0 - assumed.phone_on_file) * _prefix_ratio(read, own, area, assumed))
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


def _one_phone(read: str, own: str, owners: int) -> float:
    """Return the likelihood ratio of a number for one on file."""
    longest, rare = min(len(read), len(own)), min(1e7, 1000.0 + 100.0 * owners)
    if longest >= _WHOLE:
        if read[-longest:] == own[-longest:]:
            return 0.75 * rare
        wrong = sum(a != b for a, b in zip(read[-longest:], own[-longest:], strict=True))
        return 400.0 if wrong == 1 else 0.0
    if own.endswith(read):
        return min(0.6 * 10.0 ** len(read), 0.5 * rare)
    return 10.0 ** (len(read) - 2) if read in own else 0.0


def weigh_email(
    email: str, owner: OwnerOnFile, counts: MailCounts, owners: int, assumed: Assumptions, *, name_read: bool
) -> Reason | None:
    """Return what an e-mail address says; counts: owners that have it, or another at its domain."""
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
        weight = math.log((0.7 if own else 0.9) + (0.0 if name_read else 0.15 * person))
    else:
        like = _like_a_name(domain, owner)
        weight = math.log((8.0 if name_read else 40.0) if like else 0.15 if own else 0.4)
        if like:
            return Reason("e-mail", f"{domain} is like their name", weight)
    words = f"{email} is like a person of theirs" if person > 0 and weight > 0 else f"{email}: not on file for them"
    return Reason("e-mail", words, weight)


def _like_a_name(domain: str, owner: OwnerOnFile) -> bool:
    """Return True when a domain begins as a name of the owner does."""
    stem = "".join(words_of(domain.rpartition(".")[0]))
    return len(stem) > 4 and any("".join(words_of(name)).startswith(stem) for name in owner.names)


def _person_ratio(local: str, owner: OwnerOnFile) -> float:
    """Return how well the part before the @ fits a person: surname with first name or initial."""
    for person in owner.people:
        words = words_of(person)
        if len(words) > 1 and local.replace(".", "") in {words[0] + words[-1], words[0][0] + words[-1]}:
            return 60.0
    return 0.0
