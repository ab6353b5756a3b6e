"""Invented names of people, firms, streets: a few are frequent and most are rare, as names are."""

from __future__ import annotations

import random
from collections.abc import Callable

from flueproof.simulate.arrivals.figures import words


class Names:
    """A stock of names to draw from; the first of the stock are the most frequent (Zipf).

    chance: all randomness; kinds: how many surnames there are.
    Source: shape of frequencies by common practice, no source.
    """

    def __init__(self, chance: random.Random, kinds: int) -> None:
        self._chance = chance
        made = list(dict.fromkeys(invented(chance) for _ in range(kinds)))
        plain: list[str] = list(words()["plain_surnames"])
        chance.shuffle(plain)
        surnames = plain + made
        self.surname = zipf(surnames, chance)
        self.first = zipf(words()["first_names"], chance, flat=8)

    def person(self, surname: str = "") -> str:
        """Return first name and surname."""
        return f"{self.first()} {surname or self.surname()}"

    def firm(self, town: str) -> tuple[str, str]:
        """Return the name of a firm and the surname of its founder."""
        words_, chance, surname = words(), self._chance, self.surname()
        trade, ending = chance.choice(words_["trades"]), chance.choice(words_["endings"])
        patterns: list[Callable[[], str]] = [
            lambda: f"{surname} {trade}",
            lambda: f"{surname} {chance.choice(words_['families'])} {trade}",
            lambda: f"{self.person(surname)} {trade}",
            lambda: f"{surname} & {self.surname()}",
            lambda: f"{chance.choice(words_['fancies'])} {trade}",
            lambda: f"{town} {trade}",
            lambda: f"{chance.choice('ABCDEFGHJKLMNPRSTW')}&{chance.choice('ABCDEFGHJKLMNPRSTW')} {trade}",
            lambda: f"{chance.choice(words_['fancies'])} {surname} {trade}",
        ]
        weights = (30, 12, 10, 8, 17, 10, 5, 8)
        return f"{chance.choices(patterns, weights)[0]()} {ending}".strip(), surname

    def street(self) -> str:
        """Return a street with a number."""
        number = self._chance.choice((self._chance.randint(1, 99), self._chance.randint(100, 2999)))
        return f"{number} {self._chance.choice(words()['streets'])} {self._chance.choice(words()['street_ends'])}"


def invented(chance: random.Random) -> str:
    """Return a made-up surname or the stem of a town."""
    words_ = words()
    return f"{chance.choice(words_['starts'])}{chance.choice(words_['middles'])}{chance.choice(words_['ends'])}"


def zipf(stock: list[str], chance: random.Random, flat: int = 6) -> Callable[[], str]:
    """Return a drawer of names whose n-th is drawn with a weight of 1 / (n + flat)."""
    sums: list[float] = []
    total = 0.0
    for rank in range(len(stock)):
        total += 1.0 / (rank + flat)
        sums.append(total)
    return lambda: chance.choices(stock, cum_weights=sums)[0]
