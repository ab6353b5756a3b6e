"""The same shop on a later day: a second server beside the first, whose clock is ahead, on the same data."""

import contextlib
import datetime as dt
import os

from shop.serving import RunningShop, free_port

AHEAD = """
import datetime, os
from django.utils import timezone
_now, _ahead = timezone.now, datetime.timedelta(seconds=float(os.environ["CLOCK_AHEAD_S"]))
timezone.now = lambda: _now() + _ahead
"""


@contextlib.contextmanager
def later(shop, moment, folder):
    """Serve a shop's data as if it were `moment` now (an aware one); folder: an empty one, for the clock's file.

    The pages take the time from one place, so the real server runs with that one place ahead.
    """
    (folder / "sitecustomize.py").write_text(AHEAD)
    paths = [str(folder), *filter(None, [shop.environment.get("PYTHONPATH")])]
    ahead = (moment - dt.datetime.now(dt.UTC)).total_seconds()
    environment = {**shop.environment, "PYTHONPATH": os.pathsep.join(paths), "CLOCK_AHEAD_S": str(ahead)}
    other = RunningShop(shop.folder, environment, free_port())
    try:
        yield other.start()
    finally:
        other.kill()
