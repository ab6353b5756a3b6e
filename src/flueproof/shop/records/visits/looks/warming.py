"""How long an analyzer still warms up: gas put on before does not count."""

from __future__ import annotations

from datetime import datetime, timedelta

from flueproof.bench.record.steps.surroundings import ZeroingStep
from flueproof.shop.records.visits.judged import Judged


def warm_in_s(found: Judged, now: datetime) -> float:
    """Return the seconds until gas may go on [s]; 0 once it is warm, or while nothing shows when it was switched on.

    It counts from the last zeroing that stands, as the judge counts. Source: the profile's warm-up.
    """
    if found.record is None:
        return 0.0
    zeroed = max((one.at for one in found.record.standing_steps() if isinstance(one, ZeroingStep)), default=None)
    if zeroed is None:
        return 0.0
    return max(0.0, (zeroed + timedelta(seconds=found.profile.warm_up_s) - now).total_seconds())
