"""The shipped tables, or a folder of others, as knowledge."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from importlib import resources
from typing import Any

from flueproof.faults.errors import KnowledgeError
from flueproof.faults.knowledge.knowledge import Knowledge, Priors
from flueproof.faults.knowledge.reading_causes import causes_from
from flueproof.faults.knowledge.reading_observations import observations_from
from flueproof.faults.knowledge.table import Table, is_number


def knowledge_from(files: Mapping[str, str]) -> Knowledge:
    """Return the knowledge of TOML texts by file name; names begin with `causes`, `observations` or `priors`.

    Raises: KnowledgeError (unreadable, a key twice, a name nobody knows, no priors).
    """
    causes: dict[str, Any] = {}
    observations: dict[str, Any] = {}
    priors: Priors | None = None
    for name in sorted(files):
        tree = _tree(name, files[name])
        if name.startswith("causes"):
            _add(causes, causes_from(tree, name), name)
        elif name.startswith("observations"):
            _add(observations, observations_from(tree, name), name)
        elif name.startswith("priors"):
            priors = _priors(Table(tree, name, "priors"))
    if priors is None or not causes or not observations:
        raise KnowledgeError("knowledge", "files", "lack causes, observations or priors.", "Give all three.")
    _known_causes(causes, observations, priors)
    return Knowledge(causes, observations, priors)


@functools.cache
def shipped_knowledge() -> Knowledge:
    """Return the shipped tables, read once.

    Raises: KnowledgeError.
    """
    folder = resources.files("flueproof.faults").joinpath("data")
    files = {item.name: item.read_text(encoding="utf-8") for item in folder.iterdir() if item.name.endswith(".toml")}
    return knowledge_from(files)


def _tree(name: str, text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise KnowledgeError(name, "file", f"is no TOML: {error}.") from error


def _add(known: dict[str, Any], more: Mapping[str, Any], where: str) -> None:
    for key, value in more.items():
        if key in known:
            raise KnowledgeError(where, key, "stands in two files.", "Keep one.")
        known[key] = value


def _known_causes(causes: Mapping[str, Any], observations: Mapping[str, Any], priors: Priors) -> None:
    for observation in observations.values():
        for key in observation.likelihood.under:
            if key not in causes:
                where = f"{observation.key}.under.{key}"
                raise KnowledgeError("observations", where, "is no cause of the tables.", "Respell or remove it.")
    for pair in priors.together:
        for key in pair:
            if key not in causes:
                raise KnowledgeError("priors", f"together.{key}", "is no cause of the tables.", "Respell or remove it.")


def _priors(table: Table) -> Priors:
    priors = Priors(
        none=table.number("none"),
        none_routine=table.number("none_routine"),
        pair_share=table.number("pair_share", high=1.0),
        together=_together(table),
        ageing=_ageing(table.child("ageing")),
        seasons=(table.number("inside_season", 1.0), table.number("outside_season", 1.0)),
        overlap=table.number("overlap", high=1.0),
    )
    table.text("source")
    table.close()
    return priors


def _together(table: Table) -> dict[tuple[str, str], float]:
    rows = table.take("together") or []
    found: dict[tuple[str, str], float] = {}
    for row in rows:
        fits = isinstance(row, list) and len(row) == 3 and isinstance(row[0], str) and isinstance(row[1], str)
        if not fits or not is_number(row[2]) or row[2] < 0 or row[0] == row[1]:
            raise table.fault("together", f"holds {row!r}, allowed are two causes and a factor of at least 0.")
        first, second = sorted(row[:2])
        found[first, second] = float(row[2])
    return found


def _ageing(table: Table) -> dict[str, tuple[tuple[float, float], ...]]:
    found: dict[str, tuple[tuple[float, float], ...]] = {}
    for part in table.values:
        steps = table.take(part)
        fits = isinstance(steps, list) and all(
            isinstance(s, list) and len(s) == 2 and all(map(is_number, s)) for s in steps
        )
        if not fits or [s[0] for s in steps] != sorted(s[0] for s in steps) or any(s[1] < 0 for s in steps):
            raise table.fault(part, f"is {steps!r}, allowed are steps [from this age, factor], ages ascending.")
        found[part] = tuple((float(age), float(factor)) for age, factor in steps)
    return found
