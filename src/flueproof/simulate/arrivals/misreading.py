"""How serials, names and numbers are misread and mistyped."""

from __future__ import annotations

import random
import re

from flueproof.simulate.arrivals.figures import figure

LOOKALIKES = ("0OQD", "1IL7", "5S", "8B", "2Z", "6G")
_ALL = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ"
_NEAR_KEYS = {
    "a": "sq", "b": "vn", "c": "xv", "d": "sf", "e": "wr", "f": "dg", "g": "fh", "h": "gj", "i": "uo", "j": "hk",
    "k": "jl", "l": "k", "m": "n", "n": "bm", "o": "ip", "p": "o", "q": "w", "r": "et", "s": "ad", "t": "ry",
    "u": "yi", "v": "cb", "w": "qe", "x": "zc", "y": "tu", "z": "x",
}  # fmt: skip
SHORT_FORMS = {
    "Heating": ("Htg", "Heat", "Heating"),
    "Cooling": ("Clg", "Cool"),
    "Plumbing": ("Plbg", "Plumb"),
    "Mechanical": ("Mech",),
    "Service": ("Svc", "Serv"),
    "Services": ("Svcs",),
    "Company": ("Co",),
    "Combustion": ("Comb",),
    "Furnace": ("Furn",),
    "Brothers": ("Bros",),
    "Inspections": ("Insp",),
}


def misread_serial(serial: str, chance: random.Random) -> str:
    """Return what is typed of a serial; ? stands for an unreadable character, * for some in a row."""
    worn = chance.random() < figure("serial.worn")
    kind = "worn" if worn else "clear"
    signs = [_misread(sign, kind, chance) if sign.isalnum() else sign for sign in serial]
    signs = _mistyped(signs, chance)
    if worn:
        signs = _worn(signs, chance)
    text = "".join(signs)
    if chance.random() < figure("serial.separator_lost"):
        text = re.sub(r"[-/ ]", "", text)
    return text


def _misread(sign: str, kind: str, chance: random.Random) -> str:
    """Return a character as it is read."""
    alike = next((group for group in LOOKALIKES if sign in group), "")
    at = chance.random()
    if alike and at < figure(f"serial.{kind}_lookalike"):
        return chance.choice([other for other in alike if other != sign])
    return chance.choice(_ALL) if at > 1 - figure(f"serial.{kind}_wrong") else sign


def _mistyped(signs: list[str], chance: random.Random) -> list[str]:
    """Return the characters with at most one slip of each kind."""
    signs, at = list(signs), chance.randrange(len(signs) - 1)
    if chance.random() < figure("serial.swapped"):
        signs[at], signs[at + 1] = signs[at + 1], signs[at]
    if chance.random() < figure("serial.dropped"):
        del signs[chance.randrange(len(signs))]
    if chance.random() < figure("serial.doubled"):
        at = chance.randrange(len(signs))
        signs.insert(at, signs[at])
    return signs


def _worn(signs: list[str], chance: random.Random) -> list[str]:
    """Return the characters with unreadable ones, and with the ends that are missing taken off."""
    start = chance.randint(1, 3) if chance.random() < figure("serial.start_missing") else 0
    end = chance.randint(1, 4) if chance.random() < figure("serial.end_missing") else 0
    kept = signs[start : len(signs) - end]
    masked = "".join("?" if sign.isalnum() and chance.random() < figure("serial.masked") else sign for sign in kept)
    if chance.random() < figure("serial.run_as_star"):
        masked = re.sub(r"\?\?+", "*", masked)
    return list(masked)


def misspelt(text: str, chance: random.Random) -> str:
    """Return a text with one slip in a word of four letters or more: left out, doubled, swapped, a key beside it."""
    places = [at for at, letter in enumerate(text) if letter.isalpha() and 0 < at < len(text) - 1]
    if len(places) < 3:
        return text
    at = chance.choice(places)
    letter = text[at]
    slips = (
        text[:at] + text[at + 1 :],
        text[:at] + letter + text[at:],
        text[:at] + text[at + 1] + letter + text[at + 2 :],
        text[:at] + chance.choice(_NEAR_KEYS.get(letter.lower(), "e")) + text[at + 1 :],
    )
    return chance.choice(slips)


def abbreviated(name: str, chance: random.Random) -> str:
    """Return a firm's name in short: trade words shortened, the ending or the trade left out, or initials only."""
    parts = [part for part in name.split() if part not in {"Inc.", "LLC", "Co."}]
    if len(parts) > 1 and chance.random() < figure("sender.initials"):
        return "".join(part[0] for part in parts if part[0].isalpha())
    if len(parts) > 2 and chance.random() < 0.4:
        return " ".join(parts[: chance.randint(1, len(parts) - 1)]).removesuffix(" &")
    return " ".join(chance.choice(SHORT_FORMS.get(part, (part,))) for part in parts).replace("&", chance.choice("&+"))


def digit_wrong(text: str, chance: random.Random) -> str:
    """Return a text with one of its digits changed."""
    places = [at for at, sign in enumerate(text) if sign.isdigit()]
    if not places:
        return text
    at = chance.choice(places)
    return text[:at] + chance.choice("0123456789") + text[at + 1 :]
