"""Where a duty stands, in words: who told whom, when."""

from __future__ import annotations

from typing import Final

from flueproof.shop.frame.presenters.moments import moment_text
from flueproof.shop.records.duties.telling import REACHED
from flueproof.shop.records.models import Duty

STATE_LINKS: Final = (
    ("open", "Open"),
    ("told", "Told"),
    ("not-needed", "Need not be told"),
    ("overtaken", "Overtaken"),
    ("all", "All"),
)
KIND_WORDS: Final = {"co-low": "CO reads low", "as-found": "Outside its limits", "reference": "Our reference was wrong"}


def state_words(row: Duty) -> str:
    """Return one sentence on where it stands."""
    acts = list(row.acts.all())
    reached = [act for act in acts if act.way in REACHED]
    if row.state == "told" and reached:
        act = reached[-1]
        whom = f"{act.whom}, " if act.whom else ""
        return f"Told: {whom}{act.get_way_display()}, {moment_text(act.at, short=True)}, by {act.by}."
    if row.state == "not-needed":
        return f"Need not be told: {row.why_not}"
    if row.state == "overtaken":
        return row.why_not or "Overtaken by a later finding."
    tried = [act for act in acts if act.way != "note"]
    if not tried:
        return "Nobody has tried yet."
    act = tried[-1]
    said = "not reached" if act.way == "not-reached" else f"{act.get_way_display()}, nobody spoken to yet"
    return f"Tried {len(tried)}×, the last time {moment_text(act.at, short=True)} by {act.by}: {said}."
