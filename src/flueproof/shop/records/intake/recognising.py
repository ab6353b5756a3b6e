"""Whose a box may be: the clues from the counter, weighed against the shop's file."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from django.utils import timezone

from flueproof.intake.clues import Clues
from flueproof.intake.ranking import rank
from flueproof.intake.recognition import Recognition
from flueproof.shop.records.intake.roster import DatabaseRoster


def weigh_box(clues: Mapping[str, Any], now: dt.datetime) -> Recognition:
    """Return whose a box may be, from what was typed (field -> text; see flueproof.intake.clues)."""
    today = timezone.localdate(now)
    return rank(Clues.from_mapping(clues), DatabaseRoster(today), today)
