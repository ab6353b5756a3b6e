"""How far an agent's clock is off the shop's, judged from what it sends; what it wrote is kept as it is.

Only two things can be known without asking the agent: a reading from the future means its clock is ahead, and several
batches in a row that all come equally late mean it is behind. A single late batch is a delivery after a gap.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final

from flueproof.shop.records.models import Application, Reading

SMALL_S: Final = 2.0  # within this, delivery takes as long as any fault of the clock (own choice)
_ROWS: Final = 200
_BATCHES: Final = 4
_EQUALLY_S: Final = 5.0


def agent_is_off_by(agent: str, newest_at: datetime, now: datetime) -> float:
    """Return what to add to an agent's times to get the shop's [s]; 0 where nothing speaks for a wrong clock.

    newest_at: of the batch just received, by the agent's clock; now: by the shop's.
    Source: own rule; the least of one-way delays holds the offset (from memory, as in network time).
    """
    late = [(now - newest_at).total_seconds(), *_late_before(agent)][:_BATCHES]
    if min(late) < -SMALL_S:
        return min(late)
    if len(late) == _BATCHES and min(late) > SMALL_S and max(late) - min(late) < _EQUALLY_S:
        return min(late)
    return 0.0


def _late_before(agent: str) -> list[float]:
    """Return how late the newest reading of each earlier batch came [s], the last batch first."""
    newest: dict[datetime, datetime] = {}
    rows = Reading.objects.filter(source=agent).order_by("-sequence").values_list("received_at", "at")[:_ROWS]
    for received_at, at in rows:
        newest[received_at] = max(at, newest.get(received_at, at))
    return [(received - at).total_seconds() for received, at in sorted(newest.items(), reverse=True)]


def corrected_by_s(application: Application) -> float:
    """Return by how much the times of an application's captured readings were corrected [s], the largest of them."""
    rows = application.readings.exclude(station=None).exclude(t_s=None).values_list("at", "t_s")
    off = [t_s - (at - application.began_at).total_seconds() for at, t_s in rows if t_s is not None]
    largest = max(off, key=abs, default=0.0)
    return largest if abs(largest) > SMALL_S else 0.0
