"""Sending what is in the spool: in order, again after an unclear answer, and without spinning after a no."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random
from typing import Final

from .errors import SpoolError
from .reading import body_of
from .shop import Refused, Shop, Stored, Unclear
from .spool import Spool
from .telling import Tell

LARGEST_BATCH: Final = 500
FIRST_PAUSE_S: Final = 1.0
LONGEST_PAUSE_S: Final = 60.0
_TOO_LARGE: Final = 413
_IDLE_S: Final = 1.0


def pause_s(failures: int, chance: float) -> float:
    """Return how long to wait after so many failures in a row [s]: doubling, at most a minute, half of it by chance.

    chance: 0 to 1; with it, agents that lost the shop together do not come back in the same moment.
    """
    longest = min(LONGEST_PAUSE_S, FIRST_PAUSE_S * 2.0 ** min(failures - 1, 16))
    return longest * (0.5 + 0.5 * chance)


@dataclass
class Delivery:
    """The sending half of the agent.

    agent: its id; random: the only source of chance; wake: set when something new is in the spool.
    """

    spool: Spool
    shop: Shop
    agent: str
    tell: Tell
    random: Random
    wake: threading.Event = field(default_factory=threading.Event)
    batch: int = LARGEST_BATCH
    failures: int = 0
    sent: int = 0
    held: str = ""

    def run(self, stop: threading.Event, pause: Callable[[float], object] | None = None) -> None:
        """Send until stop is set, then try once more what is left, unless the shop is away.

        pause: waits so many seconds at most, `stop.wait` when None.
        """
        try:
            while not stop.is_set():
                self._turn(stop, pause or stop.wait)
            while not self.failures and self.once() == 0.0:
                pass
        except SpoolError as error:
            self.tell("spool-refuses", str(error))
        finally:
            self.shop.close()

    def _turn(self, stop: threading.Event, wait: Callable[[float], object]) -> None:
        try:
            waiting_s = self.once()
        except SpoolError as error:
            if not stop.is_set() and str(error) != self.held:
                self.tell("spool-refuses", str(error))
            self.held, waiting_s = str(error), LONGEST_PAUSE_S / 10.0
        if waiting_s is None:
            self.wake.wait(_IDLE_S)
            self.wake.clear()
        elif waiting_s:
            wait(waiting_s)

    def once(self) -> float | None:
        """Post one batch if there is one. Return how long to wait before the next [s], None when nothing is there.

        Raises: SpoolError.
        """
        readings = self.spool.unsent(self.batch)
        if not readings:
            return None
        tried_to = self.spool.state().tried_to
        self.spool.trying(readings[-1].sequence)
        answer = self.shop.post(body_of(self.agent, readings))
        if isinstance(answer, Stored):
            return self._stored(answer, [one.sequence for one in readings], tried_to)
        if isinstance(answer, Unclear):
            return self._later(answer.why)
        if answer.status == _TOO_LARGE and self.batch > 1:
            self.batch = max(1, self.batch // 2)
            return 0.0
        return self._hold(answer)

    def _stored(self, answer: Stored, numbers: list[int], tried_to: int) -> float:
        known = sum(number <= tried_to for number in numbers)
        if answer.repeated > known:
            self.spool.not_tried(tried_to)
            return self._hold(
                Refused(
                    200,
                    f"The shop already has readings under the id {self.agent!r} and these numbers, which were not sent"
                    " from this spool: another agent or another spool has used the id.",
                    "Give this agent an id of its own with --agent; nothing is lost, the readings stay here.",
                )
            )
        done = [number for number in numbers if number <= answer.acknowledged]
        if not done or answer.stored + answer.repeated < len(done):
            return self._later(f"{self.shop.server}: answers, but has not stored the readings")
        self.spool.acknowledge(done[-1])
        self.sent += len(done)
        self.batch = min(LARGEST_BATCH, self.batch * 2)
        if self.failures:
            self.tell("shop-back", f"The shop has answered: {done[-1]} is the last number it has.")
        self.failures, self.held = 0, ""
        return 0.0

    def _later(self, why: str) -> float:
        self.failures += 1
        if self.failures == 1:
            self.tell("shop-away", f"{why}. Readings stay on disk and are sent when it answers.")
        return pause_s(self.failures, self.random.random())

    def _hold(self, answer: Refused) -> float:
        """Say once what is wrong and try again once a minute: a person must do something, nothing is lost."""
        self.failures = max(self.failures, 1)
        said = f"The shop refuses ({answer.status}): {answer.message} {answer.remedy}"
        if said != self.held:
            self.tell("shop-refuses", f"{said} Readings stay on disk.")
            self.held = said
        return pause_s(17, self.random.random())
