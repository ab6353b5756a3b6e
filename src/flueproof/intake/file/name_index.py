"""Words of names on file: who has them, how many, and which are one slip away."""

from __future__ import annotations

import bisect
from collections.abc import Collection, Iterable
from typing import Final

from flueproof.intake.file.keys import names_words, words_of
from flueproof.intake.file.roster import WordCount
from flueproof.intake.weighing.words import initials_of, one_slip

_LONGEST: Final = 24


class NameIndex:
    """Words of the names of firms and people; owners are known by their place in the file."""

    def __init__(self) -> None:
        self._owners: dict[str, list[int]] = {}
        self._initials: dict[str, list[int]] = {}
        self._counts: dict[str, WordCount] = {}
        self._shorn: dict[str, list[str]] = {}
        self._sorted: list[str] = []

    def fill(self, owners: Iterable[tuple[int, Iterable[str], Iterable[str]]]) -> None:
        """Take in (place, names of the firm, names of its people) of every owner."""
        firms: dict[str, int] = {}
        people: dict[str, int] = {}
        for place, names, persons in owners:
            own = {word for name in names for word in words_of(name)}
            for word in own:
                firms[word] = firms.get(word, 0) + 1
            mentioned = set(own)
            for person in persons:
                for word in set(words_of(person)):
                    people[word] = people.get(word, 0) + 1
                    mentioned.add(word)
            for initials in {initials_of(names_words(name)) for name in names}:
                self._initials.setdefault(initials, []).append(place)
            for word in mentioned:
                self._owners.setdefault(word, []).append(place)
        for word in self._owners:
            self._counts[word] = WordCount(firms.get(word, 0), people.get(word, 0))
            for shorn in _shorn(word):
                self._shorn.setdefault(shorn, []).append(word)
        self._sorted = sorted(self._owners)

    def owners_of(self, word: str) -> list[int]:
        """Return the owners that have a word in a name of theirs."""
        return self._owners.get(word, [])

    def owners_by_initials(self, word: str) -> list[int]:
        """Return the owners whose name has these initials."""
        return self._initials.get(word, [])

    def counts(self, words: Collection[str]) -> dict[str, WordCount]:
        """Return how often words stand in names."""
        return {word: self._counts[word] for word in words if word in self._counts}

    def near(self, word: str) -> list[str]:
        """Return the words on file that are one slip away."""
        found = {near for shorn in _shorn(word) for near in self._shorn.get(shorn, ())}
        return [near for near in found if one_slip(word, near)]

    def beginning(self, word: str, most: int = 40) -> list[str]:
        """Return words on file that begin with a word."""
        at = bisect.bisect_right(self._sorted, word)
        found: list[str] = []
        while at < len(self._sorted) and self._sorted[at].startswith(word) and len(found) < most:
            found.append(self._sorted[at])
            at += 1
        return found


def _shorn(word: str) -> set[str]:
    """Return a word and the word without each of its letters: words one slip apart have one of these in common."""
    word = word[:_LONGEST]
    return {word} | {word[:at] + word[at + 1 :] for at in range(len(word))}
