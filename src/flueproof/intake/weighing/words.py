"""One word as read against the words of a name: the same, with a slip, in short, or none of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rapidfuzz.distance import OSA

from flueproof.intake.assumptions import Assumptions

_LONG_ENOUGH_FOR_A_SLIP = 4


@dataclass(frozen=True, slots=True)
class Counted:
    """How often words stand in names; near: the words that are, or are one slip from, a word that was read."""

    counts: Mapping[str, int]
    total: int
    near: frozenset[str]

    def share(self, word: str) -> float:
        """Return the share of other names with a word; a word seen once is half expected to come again."""
        return max(self.counts.get(word, 0) - 0.5, 0.5) / self.total

    def usual(self, word: str) -> float:
        """Return how usual a word is in names of this kind; few names on file say little."""
        return (self.counts.get(word, 0) + 0.3) / (self.total + 20.0)

    def slips(self, read: str, own: str) -> float:
        """Return the share of names with a word near the one read, other than `own`."""
        others = sum(self.counts.get(word, 0) for word in self.near if word != own and one_slip(read, word))
        return (0.5 + others + self.counts.get(read, 0)) / self.total


def best_fit(
    read: str, own: tuple[str, ...], used: set[int], counted: Counted, assumed: Assumptions
) -> tuple[float, int, bool]:
    """Return the likelihood ratio of a word, the place of the word it stands for (-1: none), if it is that word."""
    best = (assumed.word_extra, -1, False)
    for place, word in enumerate(own):
        if place in used:
            continue
        if word == read:
            return assumed.word_right / counted.share(word), place, True
        ratio = 0.0
        if is_short_for(read, word):
            ratio = _short(read, word, counted, assumed)
        elif one_slip(read, word):
            ratio = assumed.word_slip / (counted.slips(read, word) + assumed.word_slip * counted.share(word))
        if ratio > best[0]:
            best = (ratio, place, False)
    return best


def _short(read: str, word: str, counted: Counted, assumed: Assumptions) -> float:
    if len(read) == 1:
        return min(12.0, 1.0 / counted.share(word))
    spread = counted.share(read) + assumed.word_short * (counted.share(word) + 0.01)
    return assumed.word_short / spread


def one_slip(read: str, word: str) -> bool:
    """Return True when a slip of the pen or the key makes one of the other."""
    if min(len(read), len(word)) < _LONG_ENOUGH_FOR_A_SLIP or read == word:
        return False
    return OSA.distance(read, word, score_cutoff=1) <= 1


def is_short_for(read: str, word: str) -> bool:
    """Return True when a word is the initial, the beginning, or the consonants in order of another."""
    if len(read) >= len(word) or read[0] != word[0]:
        return False
    if word.startswith(read):
        return len(read) in {1, 2} or len(read) >= 3
    letters = iter(word)
    return len(read) <= len(word) - 2 and len(read) <= 5 and all(letter in letters for letter in read)


def initials_of(words: tuple[str, ...]) -> str:
    """Return the first letters of words in a row."""
    return "".join(word[0] for word in words)
