"""What was read off the plate, weighed for one analyzer after the other."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.clues import Clues
from flueproof.intake.file.keys import plate_key
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile
from flueproof.intake.file.roster import Plate, PlatesLike, Roster, Totals
from flueproof.intake.recognition import Reason
from flueproof.intake.serials.describing import in_words
from flueproof.intake.serials.likeness import likeness
from flueproof.intake.weighing.plate_words import background_of, make_model_likeness

Plated = AnalyzerOnFile | OpenRequest | Plate
_LIKE, _LAST = 300, 40


class PlateWeigher:
    """Weighs serial, make and model of one box."""

    def __init__(
        self, clues: Clues, roster: Roster, owners: Sequence[OwnerOnFile], totals: Totals, assumed: Assumptions
    ) -> None:
        self._clues, self._assumed = clues, assumed
        self._words = {plate: make_model_likeness(clues, *plate, assumed) for plate in totals.models}
        self._word_background = background_of(self._words, totals.models)
        plates: list[Plated] = [analyzer for owner in owners for analyzer in owner.analyzers]
        plates += [request for owner in owners for request in owner.requests if request.serial]
        self._ratios: dict[str, float] = {}
        seen = {owner.key for owner in owners}
        like = PlatesLike((), 0.0)
        if plate_key(clues.serial).strip("?*"):
            like = roster.plates_like(clues.serial, _LIKE)
            self._weigh_serials(roster, [*plates, *like.plates], totals)
        self._unseen = [plate for plate in like.plates if plate.owner not in seen]
        self._more = like.more
        self._last = like.plates[-_LAST:]

    def of_unseen(self, count: float) -> float:
        """Return the sum of the likelihood ratios of all analyzers whose owners are not looked at.

        count: how many those are. The likest are weighed; the others are counted by how like they are.
        """
        if not self._last:
            return count
        last = sum(math.exp(self.weight(plate)) for plate in self._last) / len(self._last)
        # The series are learned from these very plates: on the average none fits better than one never seen.
        return sum(math.exp(self.weight(plate)) for plate in self._unseen) + min(last * self._more, count)

    def weight(self, plate: Plated | None) -> float:
        """Return the logarithm of the likelihood ratio of an analyzer; 0 for one never seen."""
        if plate is None:
            return 0.0
        return self._ratios.get(plate.serial, 0.0) + self._make_and_model(plate)

    def reasons(self, plate: Plated | None) -> tuple[Reason, ...]:
        """Return the same clue by clue, in words."""
        if plate is None:
            return ()
        clues, found = self._clues, []
        if plate.serial in self._ratios:
            found.append(Reason("serial", in_words(clues.serial, plate.serial), self._ratios[plate.serial]))
        weight = self._make_and_model(plate)
        if weight:
            read = " ".join(part for part in (clues.make, clues.model) if part)
            words = f"{read}, as on file" if weight > 0 else f"{read} read, on file {plate.make} {plate.model}"
            found.append(Reason("make", words, weight))
        return tuple(found)

    def _make_and_model(self, plate: Plated) -> float:
        if not (self._clues.make or self._clues.model) or not (plate.make or plate.model):
            return 0.0
        key = (plate.make, plate.model)
        if key not in self._words:
            self._words[key] = make_model_likeness(self._clues, *key, self._assumed)
        return math.log(self._words[key] / self._word_background)

    def _weigh_serials(self, roster: Roster, plates: Sequence[Plated], totals: Totals) -> None:
        """Set the likelihood ratio of each serial, given what make and model tell of the series."""
        serials = {plate.serial: plate.make for plate in plates}
        makes: dict[str, float] = {}
        for (make, model), count in totals.models.items():
            makes[make] = makes.get(make, 0.0) + count * self._words[make, model]
        listed = [(make, serial) for serial, make in serials.items()]
        found = likeness(self._clues.serial, listed, roster.series(), makes, self._assumed)
        ratios = np.log(found.each / found.background)
        self._ratios = dict(zip(serials, ratios.tolist(), strict=True))
