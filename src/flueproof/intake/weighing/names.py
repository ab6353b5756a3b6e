"""The sender's name against the names of an owner and its people; a rare word says more than a usual one."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.file.keys import names_words, words_of
from flueproof.intake.file.on_file import OwnerOnFile
from flueproof.intake.file.roster import Totals, WordCount
from flueproof.intake.recognition import Reason
from flueproof.intake.weighing.words import Counted, best_fit, initials_of, one_slip

_EVERYBODYS = 0.3


class NameWeigher:
    """Weighs one name for many owners.

    counts: how often words of the name and of the owners' names are on file; near: the same for the words of the name
    and those one slip away; owners: all that will be weighed, to know how many have the same words together.
    """

    def __init__(
        self,
        name: str,
        counts: Mapping[str, WordCount],
        near: Mapping[str, WordCount],
        owners: Sequence[OwnerOnFile],
        totals: Totals,
        assumed: Assumptions,
    ) -> None:
        self._read = names_words(name)
        self._assumed = assumed
        all_counts = {**near, **counts}
        self._firms = Counted({word: c.firms for word, c in all_counts.items()}, max(1, totals.owners), frozenset(near))
        self._people = Counted(
            {word: c.people for word, c in all_counts.items()}, max(1, totals.people), frozenset(near)
        )
        self._firm_words = [{word for name in owner.names for word in names_words(name)} for owner in owners]
        self._person_words = [set(names_words(person)) for owner in owners for person in owner.people]
        self._of_person = self._person_share()
        self._town: tuple[str, ...] = ()
        self._town_read = False

    def weigh(self, owner: OwnerOnFile, town: str = "") -> Reason | None:
        """Return what the name says for an owner, or None when no name was read; town: the one read, if any."""
        if not self._read:
            return None
        assumed = self._assumed
        self._town = next((own for place in owner.places if (own := words_of(place.town))), ())
        self._town_read = bool(town) and town == " ".join(self._town)
        firms = [(self._ratio(names_words(name), self._firms, self._firm_words), name) for name in owner.names]
        firm, firm_name = max(firms, default=(0.0, ""))
        former = 1.0 if firm_name == owner.name else 0.06
        people = [(self._ratio(names_words(name), self._people, self._person_words), name) for name in owner.people]
        _, person_name = max(people, default=(0.0, ""))
        listed = 1.0 - assumed.person_unlisted - assumed.person_as_firm if people else 0.0
        as_firm = (1.0 - assumed.firm_unlisted) * former * firm + assumed.firm_unlisted
        per_person = sum(ratio for ratio, _ in people) / max(1, len(people))
        as_person = listed * per_person + assumed.person_as_firm * firm + 1.0 - listed - assumed.person_as_firm
        weight = math.log((1.0 - self._of_person) * as_firm + self._of_person * as_person)
        if self._of_person * listed * per_person > (1.0 - self._of_person) * firm:
            words = f"the sender is like {person_name}, a person of theirs" if weight > 0 else ""
        else:
            words = self._in_words(firm_name, former=firm_name != owner.name, like=weight > 0)
        return Reason("name", words or "the sender's name is none of theirs on file", weight)

    def _in_words(self, name: str, *, former: bool, like: bool) -> str:
        what = "their former name" if former else "their name"
        own = names_words(name)
        if own == self._read:
            return f"{what}, {name}"
        if set(self._read) <= set(own):
            return f"a part of {what}, {name}"
        if like:
            return f"much like {what}, {name}"
        own_words = [word for word in self._read if word in own and self._firms.share(word) < _EVERYBODYS]
        return f"no more than a word of {what}, {name}" if own_words else ""

    def _ratio(self, own: tuple[str, ...], counted: Counted, together: list[set[str]]) -> float:
        """Return P(read | this name) / P(read | a stranger's name)."""
        assumed, read = self._assumed, self._read
        if len(read) == 1 and read[0] == initials_of(own) and len(own) > 1:
            return min(12.0 ** len(read[0]), counted.total) * 0.5
        whole = "".join(read), "".join(own)
        # A space in the wrong place, or two words run together.
        torn = whole[0] == whole[1] or (len(read) != len(own) and one_slip(*whole))
        if torn and read != own and len(whole[1]) > 7:
            return 0.3 * counted.total
        total, exact, used = 1.0, set[str](), set[int]()
        town = self._town if self._town and own[: len(self._town)] == self._town else ()
        for word in read:
            ratio, place, is_exact = best_fit(word, own, used, counted, assumed)
            if 0 <= place < len(town) and ratio > 1:
                # Firms are named for their town: its words come together, and with the town on the label.
                ratio = 1.0 if place else ratio if not self._town_read else min(ratio, 1 / assumed.named_for_town)
            total *= ratio
            if place >= 0:
                used.add(place)
            if is_exact:
                exact.add(word)
        for place in range(len(own)):
            if place not in used:
                total *= 0.12 if place == 0 else assumed.word_left_out if place == 1 else 0.6
        if len(exact) > 1:
            count = sum(exact <= words for words in together)
            others = counted.total / max(0.5, count - 0.5)
            # Words go together more than by chance: seen twice that is counted, seen once it is half believed.
            if total > others:
                total = others if count > 1 else math.sqrt(total * others)
        return total

    def _person_share(self) -> float:
        """Return the probability that the name is that of a person, by how its words are used on file."""
        read = self._read
        if not 1 < len(read) <= 3:
            return 0.02 if len(read) > 3 else 0.1
        odds = math.log(0.25)
        for place, word in enumerate(read):
            if len(word) == 1:
                odds += 0.5 if place == 0 else -1.0
            else:
                odds += math.log(self._people.usual(word) / self._firms.usual(word))
        return 1.0 / (1.0 + math.exp(-odds))
