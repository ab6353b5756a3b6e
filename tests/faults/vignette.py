"""Reads the sixty case vignettes; the form of the files is told at the head of vignettes/__about__.toml."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent / "vignettes"
ROWS = frozenset(range(1, 59))
"""Rows of the failure table in section 2 of the team's trade sheet."""

Fact = float | str | tuple[str, ...]
Measured = float | str | tuple[float, ...] | tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class Vignette:
    """One case: what the caller says, what is so, and what a good answer is.

    cells: months since each cell was made; bench: measured values, (value, standard uncertainty) where both are
    given; phone, on_bench: "first", "first-three" or "not", on_bench "" where the box need not come; never: without
    those that hold in every case (see `always_never`).
    """

    id: str
    group: str
    rows: tuple[int, ...]
    provenance: str
    profile: str
    cells: dict[str, int]
    month: int
    complaint: str
    facts: dict[str, Fact]
    unknown: tuple[str, ...]
    bench: dict[str, Measured]
    causes: tuple[str, ...]
    phone: str
    on_bench: str
    may: tuple[str, ...]
    service: str
    parts: tuple[str, ...]
    never: tuple[str, ...]
    hard: str

    @property
    def ever_never(self) -> frozenset[str]:
        """All that must not be advised here, with what must not be advised anywhere."""
        return frozenset(self.never) | always_never()


@cache
def about() -> dict[str, Any]:
    """Return the words that the cases are written in: causes, facts, bench values, decisions, harm."""
    return tomllib.loads((FOLDER / "__about__.toml").read_text(encoding="utf-8"))


@cache
def always_never() -> frozenset[str]:
    """Return what must not be advised in any case."""
    return frozenset(name for name, entry in about()["never"].items() if entry["always"])


@cache
def vignettes() -> tuple[Vignette, ...]:
    """Return all cases, by file and then as written."""
    files = sorted(path for path in FOLDER.glob("*.toml") if not path.name.startswith("__"))
    return tuple(
        read_one(entry, path.stem)
        for path in files
        for entry in tomllib.loads(path.read_text(encoding="utf-8"))["vignette"]
    )


def read_one(entry: dict[str, Any], group: str) -> Vignette:
    """Return one case as typed; whether it makes sense is `problems_of`.

    Raises: TypeError for a field missing or too many.
    """
    optional = {"unknown": [], "bench": {}, "on_bench": "", "service": ""}
    whole = {**optional, **entry, "group": group}
    return Vignette(**{name: _frozen(value) for name, value in whole.items()})


def _frozen(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(_frozen(item) for item in value)
    return {name: _frozen(item) for name, item in value.items()} if isinstance(value, dict) else value


def problems_of(case: Vignette) -> list[str]:
    """Return what is wrong with a case in words, nothing when it is complete and uses known words only."""
    known = about()
    found = [f"row {row} is not in the sheet" for row in case.rows if row not in ROWS]
    found += [f"cause {cause} is unknown" for cause in case.causes if cause not in known["causes"]]
    found += [f"fact {fact} is unknown" for fact in (*case.facts, *case.unknown) if fact not in known["facts"]]
    found += [f"{fact} is both told and unknown" for fact in case.unknown if fact in case.facts]
    found += [f"bench value {name} is unknown" for name in case.bench if name not in known["bench"]]
    found += [f"part {part} is unknown" for part in case.parts if part not in known["parts"]["names"]]
    found += [f"decision {one} is unknown" for one in case.may if one not in known["decisions"]]
    found += [f"never {one} is unknown" for one in case.never if one not in known["never"]]
    found += [f"{one} holds always, it need not be said" for one in case.never if one in always_never()]
    found += [f"{one} is both right and harmful" for one in case.may if one in case.never]
    found += [
        f"{fact} cannot be {value!r}"
        for fact, value in case.facts.items()
        if fact in known["facts"] and not allows(known["facts"][fact], value)
    ]
    found += [f"{name} cannot be {value!r}" for name, value in case.bench.items() if not _bench_allows(name, value)]
    return found + _gaps(case)


def _gaps(case: Vignette) -> list[str]:
    gaps = {
        "no complaint": bool(case.complaint.strip()),
        "no row": bool(case.rows),
        "no cause": 1 <= len(case.causes) <= 2,
        "fewer than three facts": len(case.facts) >= 3,
        "no decision": bool(case.may),
        "nothing that must not be advised": bool(case.never),
        f"provenance {case.provenance} is not among the sources": case.provenance in about()["provenance"],
        f"month {case.month} is none": case.month in range(1, 13),
        "age of the O2 cell missing": "o2" in case.cells and all(age > 0 for age in case.cells.values()),
        "phone says neither first, first-three nor not": case.phone in {"first", "first-three", "not"},
        "bench values and what they must lead to go together": bool(case.bench) == bool(case.on_bench),
        "on_bench says neither first nor first-three": case.on_bench in {"", "first", "first-three"},
        "sent in without a service": ("send-in" in case.may) == bool(case.service),
        f"service {case.service} is unknown": not case.service or case.service in about()["services"],
    }
    return [gap for gap, is_right in gaps.items() if not is_right]


def allows(rule: list[str] | str, value: Fact) -> bool:
    """Return whether a fact may have a value: one of a list, some of "list of: a, b", or a number or text."""
    if isinstance(rule, list):
        return value in rule
    if rule.startswith("list of"):
        return isinstance(value, tuple) and set(value) <= set(rule.split(": ")[1].split(", "))
    if "[" in rule:
        return value == "----" if isinstance(value, str) else isinstance(value, int | float)
    return isinstance(value, str)


def _bench_allows(name: str, value: Measured) -> bool:
    rule = about()["bench"].get(name, "")
    if isinstance(rule, list):
        return value in rule
    if rule.startswith("list of"):
        return isinstance(value, tuple) and all(isinstance(pair, tuple) and len(pair) == 2 for pair in value)
    if ", u]" in rule:
        return isinstance(value, tuple) and len(value) == 2 and float(value[1]) > 0  # type: ignore[arg-type]
    return isinstance(value, int | float)
