"""An import for its page: the picture of what it would do, in shares and words, and what must be settled."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any, Final

from flueproof.shop.records.importing.reading.dates import ORDERS, day_in_words
from flueproof.shop.records.importing.runs import hindrances, seconds_held, understanding_of_run
from flueproof.shop.records.importing.understanding.findings import KINDS
from flueproof.shop.records.models import ImportRun

_WIDE, _NARROWEST = 600.0, 3.0  # [units of the picture]
_KIND: Final = {
    "new": ("new", "imported"),
    "adds": ("new for an owner on file", "the person or address is added to the owner"),
    "there": ("already there", "stay as they are"),
    "repeated": ("say the same as a row above", "count once"),
    "differs": ("differ from what is on file", "what is on file stays; what differs is listed"),
    "lookalike": ("look like another analyzer", "not imported until you say that it is another one"),
    "waiting": ("wait for the order of the date", "not imported until you choose it"),
    "error": ("cannot be read", "not imported; the list of problems says why"),
}
_MADE: Final = {
    "owner": ("owner", "owners"),
    "contact": ("person", "people"),
    "address": ("address", "addresses"),
    "analyzer": ("analyzer", "analyzers"),
    "due": ("due date or interval", "due dates or intervals"),
}
_OF_ROWS: Final = {
    "owners": "owner",
    "contacts": "contact",
    "addresses": "address",
    "analyzers": "analyzer",
    "obligations": "due",
}
_LISTS: Final = (
    ("error", "Cannot be read"),
    ("waiting", "Wait for the order of the date"),
    ("differs", "Differ from what is on file"),
    ("noted", "Imported with a remark"),
    ("repeated", "Say the same as a row above"),
    ("adds", "New for an owner on file"),
    ("new", "The first that are new"),
)


@dataclass(frozen=True, slots=True)
class Share:
    """One kind of row: its part of the bar (x and width in units of the picture), its words and count."""

    kind: str
    words: str
    what: str
    count: int
    x: float
    width: float

    @property
    def counted(self) -> str:
        """Return the count with its thousands apart."""
        return f"{self.count:,}"


def shares(found: dict[str, Any]) -> list[Share]:
    """Return the kinds of rows that occur, with their place in the bar; a small share stays wide enough to be seen."""
    kinds = [(kind, found["kinds"][kind]) for kind in KINDS if found["kinds"][kind]]
    total = sum(count for _, count in kinds) or 1
    wanted = [max(_WIDE * count / total, _NARROWEST) for _, count in kinds]
    scale, x, made = _WIDE / (sum(wanted) or 1), 0.0, []
    for (kind, count), width in zip(kinds, wanted, strict=True):
        made.append(Share(kind, *_KIND[kind], count, round(x, 2), round(width * scale, 2)))
        x += width * scale
    return made


def in_one_sentence(run: ImportRun) -> str:
    """Return the picture in words: "2,450 of 2,500 rows would be new"."""
    found = run.found
    fresh = _fresh(found)
    rows = "row" if found["rows"] == 1 else "rows"
    verb = ("was" if fresh == 1 else "were") if run.done_at else "would be"
    return f"{fresh:,} of {found['rows']:,} {rows} {verb} new"


def made_in_words(found: dict[str, Any]) -> str:
    """Return what is made: "2,431 analyzers, 812 owners and 3 people"; "" for nothing."""
    parts = [_counted(name, count) for name in _MADE if (count := found["makes"].get(name, 0))]
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1]))) if parts else ""


def _counted(name: str, count: int) -> str:
    one, many = _MADE[name]
    return f"{count:,} {one if count == 1 else many}"


def run_page(run: ImportRun) -> dict[str, Any]:
    """Return what the page of an import shows; `found` is empty before the first dry run."""
    found, told = run.found, understanding_of_run(run)
    if not found:
        return {"run": run, "found": {}}
    return {
        "run": run,
        "found": found,
        "shares": shares(found),
        "sentence": in_one_sentence(run),
        "makes": made_in_words(found),
        "act": f"Import {_fresh(found):,} row{'' if _fresh(found) == 1 else 's'}",
        "lists": [
            {"words": words, "rows": rows, "count": f"{_count(found, name):,}", "more": _more(found, name, len(rows))}
            for name, words in _LISTS
            if (rows := found["listed"].get(name))
        ],
        "lookalikes": found["listed"].get("lookalike", []),
        "numbers": found["listed"].get("as_number", []),
        "hindered": [] if run.done_at else hindrances(run),
        "told": told,
        "order": ORDERS.get(told.date_order, ""),
        "dates": _dates(found, told.date_order),
        "last_time": "" if told.date_order else ORDERS.get(run.mapping.get("order_last_time", ""), ""),
        "problems": any(found["kinds"][kind] for kind in ("error", "waiting", "lookalike", "differs", "repeated"))
        or found["noted"],
        "others": sorted(told.others),
        "seconds": 0 if run.done_at else seconds_held(run),
        "left": [_counted(_OF_ROWS[name], count) for name, count in found.get("left", {}).items() if count],
    }


def _fresh(found: dict[str, Any]) -> int:
    return int(found["kinds"]["new"] + found["kinds"]["adds"])


def _count(found: dict[str, Any], name: str) -> int:
    return int(found["noted"] if name == "noted" else found["kinds"][name])


def _more(found: dict[str, Any], name: str, listed: int) -> str:
    more = _count(found, name) - listed
    return f"{more:,}" if more else ""


def _dates(found: dict[str, Any], order: str) -> dict[str, Any]:
    """Return what is known of the dates: how some can be read, which rows show an order, a year of two digits."""
    readings = [
        [(ORDERS[name], day_in_words(dt.date.fromisoformat(day))) for name, day in reading.items()]
        for reading in found["readings"]
    ]
    shown = {ORDERS[name]: place["row"] for name, place in found["orders"].items()}
    short = found["short_year"]
    return {
        "readings": readings[0] if readings else [],
        "shown": shown,
        "both": len(shown) > 1,
        "short": (short[0], day_in_words(dt.date.fromisoformat(short[1]))) if short else (),
        "asked": bool(found["kinds"]["waiting"] or order),
    }
