"""Boxes that arrive without a slip: what can be read of each, and whose it truly is."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator
from dataclasses import dataclass

from flueproof.simulate.arrivals.figures import figure, words
from flueproof.simulate.arrivals.filing import World
from flueproof.simulate.arrivals.misreading import misread_serial
from flueproof.simulate.arrivals.roster import Plate, ShopFile
from flueproof.simulate.arrivals.sending import SenderSeen, sender_seen
from flueproof.simulate.errors import SimulationError

KINDS = ("known_analyzer", "new_analyzer", "stranger", "sold_on")


@dataclass(frozen=True, slots=True)
class Arrival:
    """One box: what is seen of it, and the truth.

    owner: key of the true owner in the roster, None for a stranger; analyzer: key of the true analyzer, None when it
    is not on file; kind: one of KINDS.
    """

    serial: str
    make: str
    model: str
    sender: SenderSeen
    kind: str
    owner: int | None
    analyzer: int | None


def draw_arrivals(world: World, count: int) -> Iterator[Arrival]:
    """Yield boxes that arrive on the world's day, each drawn anew from the same state of the shop's file.

    Raises: SimulationError for a negative count.
    Source: figures.toml, our own assumptions.
    """
    if count < 0:
        raise SimulationError(f"need count >= 0, got {count}")
    coming = Coming(world.file, world.chance)
    shares = [figure(f"kinds.{kind}") for kind in KINDS]
    for _ in range(count):
        yield _arrival(world, coming, world.chance.choices(KINDS, shares)[0])


class Coming:
    """Who comes: those that asked, that called, that are due, and the others.

    Source: figures.toml, our own assumptions.
    """

    def __init__(self, file: ShopFile, chance: random.Random) -> None:
        self._file, self._chance = file, chance
        spread = figure("coming.due_spread_days")
        days = [(plate.next_due - file.today).days if plate.next_due else None for plate in file.analyzers]
        weights = [0.0 if day is None else math.exp(-0.5 * (day / spread) ** 2) for day in days]
        self._due = list(itertools.accumulate(weights))

    def analyzer(self) -> Plate:
        """Return the analyzer on file that comes."""
        file, at = self._file, self._chance.random()
        if at < (asked := figure("coming.request")):
            request = self._chance.choice(file.requests)
            own = file.owners[request.owner].analyzers
            return file.analyzers[self._chance.choice(own) if request.analyzer is None else request.analyzer]
        if at < (called := asked + figure("coming.called")):
            call = self._chance.choice(file.calls)
            return file.analyzers[self._chance.choice(file.owners[call.owner].analyzers)]
        if at < called + figure("coming.due") and self._due[-1] > 0:
            return self._chance.choices(file.analyzers, cum_weights=self._due)[0]
        return self._chance.choice(file.analyzers)

    def owner(self) -> int:
        """Return the owner on file that sends an analyzer never seen."""
        file, at = self._file, self._chance.random()
        if at < figure("coming.new_request"):
            return self._chance.choice(file.requests).owner
        if at < figure("coming.new_request") + figure("coming.new_called"):
            return self._chance.choice(file.calls).owner
        return self._chance.choice(file.analyzers).owner


def _arrival(world: World, coming: Coming, kind: str) -> Arrival:
    file, chance = world.file, world.chance
    owner: int | None
    if kind == "known_analyzer":
        plate = coming.analyzer()
        owner = plate.owner
    elif kind == "new_analyzer":
        owner = coming.owner()
        plate = world.plate(world.country.town_of(file.owners[owner].places[0]))
    elif kind == "sold_on":
        plate = chance.choice(file.analyzers)
        owner = coming.owner() if chance.random() < figure("kinds.sold_to_known") else None
    else:
        owner, plate = None, world.plate(world.country.town())
    firm = file.owners[owner] if owner is not None else world.firm()[0]
    make, model = _plate_seen(plate, chance)
    serial = misread_serial(plate.serial, chance) if chance.random() < figure("serial.read") else ""
    return Arrival(serial, make, model, sender_seen(world, firm), kind, owner, plate.key if plate.key >= 0 else None)


def _plate_seen(plate: Plate, chance: random.Random) -> tuple[str, str]:
    """Return make and model as they are read."""
    makes = words()["makes"]
    make = plate.make if chance.random() < figure("plate.make") else ""
    if make and chance.random() < figure("plate.make_wrong"):
        make = chance.choice(makes)["name"]
    model = plate.model if chance.random() < figure("plate.model") else ""
    if model and chance.random() < figure("plate.model_wrong"):
        model = chance.choice(next(entry["models"] for entry in makes if entry["name"] == plate.make))
    if model and chance.random() < figure("plate.model_part"):
        model = model[: max(2, len(model) // 2)].rstrip()
    return make, model
