"""What was read off the plate, weighed for one analyzer after the other."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from flueproof.intake.assumptions import Assumptions
from flueproof.intake.clues import Clues
from flueproof.intake.file.keys import plate_key
from flueproof.intake.file.on_file import AnalyzerOnFile, OpenRequest, OwnerOnFile
from flueproof.intake.file.roster import Roster, Totals
from flueproof.intake.recognition import Reason
from flueproof.intake.serials.describing import in_words
from flueproof.intake.serials.likeness import likeness
from flueproof.intake.weighing.plate_words import background_of, make_model_likeness

Plated = AnalyzerOnFile | OpenRequest


class PlateWeigher:
    """Weighs serial, make and model of one box; of_others: the likelihood ratio of an analyzer not looked at."""

    def __init__(
        self, clues: Clues, roster: Roster, owners: Sequence[OwnerOnFile], totals: Totals, assumed: Assumptions
    ) -> None:
        self._clues, self._assumed = clues, assumed
        self._words = {plate: make_model_likeness(clues, *plate, assumed) for plate in totals.models}
        self._word_background = background_of(self._words, totals.models)
        plates: list[Plated] = [analyzer for owner in owners for analyzer in owner.analyzers]
        plates += [request for owner in owners for request in owner.requests if request.serial]
        self._ratios: dict[str, float] = {}
        self.of_others = 1.0
        if plate_key(clues.serial).strip("?*"):
            self._weigh_serials(roster, plates, totals)

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

    def _weigh_serials(self, roster: Roster, plates: list[Plated], totals: Totals) -> None:
        """Set the likelihood ratio of each serial, given what make and model tell of the series."""
        serials = list(dict.fromkeys(plate.serial for plate in plates))
        makes: dict[str, float] = {}
        for (make, model), count in totals.models.items():
            makes[make] = makes.get(make, 0.0) + count * self._words[make, model]
        found = likeness(self._clues.serial, serials, roster.series(), makes, totals.analyzers, self._assumed)
        ratios = np.log(found.each / found.background)
        self._ratios = dict(zip(serials, ratios.tolist(), strict=True))
        if len(ratios):
            self.of_others = math.exp(min(0.0, float(ratios.min())))
