"""Free text of a complaint as observations, each with the words it rests on; what is not understood is said so."""

from __future__ import annotations

import functools
from dataclasses import dataclass

from rapidfuzz import fuzz

from flueproof.faults.knowledge.knowledge import Knowledge
from flueproof.faults.phrases.words import clauses, plain

SURE = 80.0  # likeness from which a phrase is taken [of 100]; own figure, no source
PERHAPS = 62.0  # likeness from which a phrase is offered for the caller to confirm [of 100]; own figure, no source
CLOSE = 4.0  # two phrases nearer than this are both offered, none taken
_FILLER = """
the a an my our it is its are was be been has have had this that of to in on at with for from when while i we you he she
they me us and or so just very really quite all every time now again since after before always sometimes please hello
thanks thank help there here what why how does do did get gets got go goes keep keeps seems
"""
SHORT, STEM, ONE_STEM = 4, 5, 90.0  # letters that must be exact, letters of one stem, its likeness; own figures
FILLER = frozenset(_FILLER.split())
DENIES = frozenset({"no", "not", "never", "without", "fine", "ok", "okay", "normal", "right"})


@dataclass(frozen=True, slots=True)
class Heard:
    """One complaint heard. observation: its key; said: the caller's words; phrase: of the tables; likeness [of 100]."""

    observation: str
    said: str
    phrase: str
    likeness: float


@dataclass(frozen=True, slots=True)
class Understood:
    """A complaint as far as it was understood.

    heard: taken as said; perhaps: to be asked back before they count; not_understood: words that nothing was made of.
    """

    heard: tuple[Heard, ...]
    perhaps: tuple[Heard, ...]
    not_understood: tuple[str, ...]

    def answers(self) -> dict[str, str]:
        """Return what was heard as answers; what was not said is no answer."""
        return {one.observation: "yes" for one in self.heard}


def understand(text: str, knowledge: Knowledge) -> Understood:
    """Return which complaints a text holds.

    The whole is tried for phrases that run over several parts, then each part; a part that denies ("CO is fine") is
    never taken for a phrase that does not.
    """
    heard: dict[str, Heard] = {}
    perhaps: dict[str, Heard] = {}
    lost: list[str] = []
    parts = clauses(text)
    for part in parts:
        found = _likeliest(part, knowledge)
        if not found or found[0].likeness < PERHAPS:
            lost += [part] if _words(part) else []
            continue
        best = found[0]
        rivals = [one for one in found[1:] if best.likeness - one.likeness < CLOSE and one.likeness >= PERHAPS]
        if best.likeness >= SURE and (not rivals or best.likeness >= 99.0):
            _keep(heard, best)
        else:
            for one in (best, *rivals[:2]):
                _keep(perhaps, one)
    if len(parts) > 1:
        for one in _likeliest(text, knowledge)[:2]:
            if one.likeness >= SURE + 8.0:
                _keep(heard, one)
    offered = tuple(one for key, one in perhaps.items() if key not in heard)
    return Understood(tuple(heard.values()), offered, tuple(lost))


def _keep(kept: dict[str, Heard], one: Heard) -> None:
    before = kept.get(one.observation)
    if before is None or before.likeness < one.likeness:
        kept[one.observation] = one


def _words(text: str) -> list[str]:
    return [word for word in plain(text).split() if word not in FILLER]


@functools.lru_cache(maxsize=4096)
def _phrase_words(phrase: str) -> list[str]:
    return _words(phrase)


def _likeliest(part: str, knowledge: Knowledge) -> list[Heard]:
    """Return the best phrase of each observation, likeliest first."""
    said = _words(part)
    found = []
    for one in knowledge.observations.values():
        scored = [(_likeness(said, _phrase_words(phrase)), phrase) for phrase in one.phrases]
        if scored:
            likeness, phrase = max(scored)
            found.append(Heard(one.key, part, phrase, likeness))
    return sorted(found, key=lambda one: (-one.likeness, one.observation))


def _likeness(said: list[str], phrase: list[str]) -> float:
    """Return how much of a phrase was said, spelling forgiven, and how much else was said [of 100]."""
    if not said or not phrase or bool(DENIES & set(said)) != bool(DENIES & set(phrase)):
        return 0.0
    covered = sum(max(_alike(word, other) for other in said) for word in phrase) / len(phrase)
    used = sum(max(_alike(word, other) for other in phrase) for word in said) / len(said)
    return 0.8 * covered + 0.2 * used


def _alike(word: str, other: str) -> float:
    """Return how alike two words are [of 100]; short words must be exact."""
    if word == other:
        return 100.0
    if min(len(word), len(other)) <= SHORT:
        return 0.0
    if word[:STEM] == other[:STEM]:
        return ONE_STEM
    likeness = fuzz.ratio(word, other)
    return likeness if likeness >= 75.0 else 0.0
