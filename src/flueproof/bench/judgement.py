"""What the judge says: values that become the judgement JSON, format 1."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Any

FORMAT = "flueproof-judgement/1"
RULES_VERSION = "1"


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One line of an uncertainty budget as printed.

    name: what it is; u: standard uncertainty of the result from it [unit of the point]; dof [-], None where taken
    as exactly known; kind: the distribution's name; shared: the common cause (bottle, bench) or None.
    """

    name: str
    u: float
    dof: float | None = None
    kind: str = "normal"
    shared: str | None = None


@dataclass(frozen=True, slots=True)
class PointJudgement:
    """One test point judged; all quantities in `unit` (core units: %, ppm, degC, Pa).

    outside_alone: steps of those among several applications that lie outside the limit by themselves.
    """

    step: str
    phase: str
    feed: str | None
    channel: str
    unit: str
    reference: float
    reference_id: str | None
    reference_u: float
    settled: float
    settled_u: float
    displayed_at_hold: float | str | None
    error: float
    u: float
    dof: float | None
    k: float
    U: float
    limit: float
    limit_of: str
    limit_source: str
    guard: float
    statement: str
    p_conform: float
    risk: float
    tur: float
    budget: tuple[BudgetLine, ...]
    counts: bool = True
    of: str | None = None
    probe: str | None = None
    application: int = 1
    repeats: int = 1
    steps: tuple[str, ...] = ()
    caveat: str | None = None
    global_risk: dict[str, float] | None = None
    outside_alone: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CheckResult:
    """A check that is no test point: plug test, vacuum hold, response time, drift in room air, cross-sensitivity."""

    step: str
    phase: str
    kind: str
    channel: str | None
    ok: bool | None
    text: str
    value: float | None = None
    unit: str | None = None
    limit: float | None = None
    detail: dict[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class Action:
    """One thing to do, with its reason; `lr` is a likelihood ratio where evidence speaks for it."""

    do: str
    why: str
    where: str | None = None
    channel: str | None = None
    enter: dict[str, Any] | None = None
    lr: float | None = None
    detail: dict[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """Outcome of a phase with its ordered actions."""

    outcome: str
    actions: tuple[Action, ...] = ()
    reasons: tuple[str, ...] = ()
    signable: bool = False


@dataclass(frozen=True, slots=True)
class DisplayedFigures:
    """What figures that the analyzer computed itself follow: information, no statement rests on it.

    steps: the `displayed` steps read together; fuel: what was set, as noted; kind: as-set, basis, air-zero, fuel,
    air-fixed, air-other, none or cannot; as_if_fuel, as_if_air_c: what they are computed with where they fit [degC];
    follows: keys of the formulas that fit, by figure; unexplained: figures that nothing explains or that could not be
    recomputed; text: all of it in sentences.
    """

    steps: tuple[str, ...]
    phase: str
    fuel: str | None
    kind: str
    as_if_fuel: str | None
    as_if_air_c: float | None
    follows: dict[str, list[str]]
    unexplained: tuple[str, ...]
    text: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Note:
    """A remark with a stable code; `blocks` when it stops the signing."""

    code: str
    text: str
    step: str | None = None
    blocks: bool = False


@dataclass(frozen=True, slots=True)
class Judgement:
    """Everything the judge says of one record."""

    record: str
    job: str
    profile: dict[str, Any]
    decision_rule: dict[str, Any]
    as_found: Verdict | None
    as_left: Verdict | None
    points: tuple[PointJudgement, ...] = ()
    checks: tuple[CheckResult, ...] = ()
    gas_path: dict[str, Any] = dataclasses.field(default_factory=dict)
    cells: dict[str, Any] = dataclasses.field(default_factory=dict)
    joint: dict[str, Any] = dataclasses.field(default_factory=dict)
    not_tested: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()
    displayed: tuple[DisplayedFigures, ...] = ()
    bundle: dict[str, Any] = dataclasses.field(default_factory=dict)
    format: str = FORMAT
    rules_version: str = RULES_VERSION

    def to_json_dict(self) -> dict[str, Any]:
        """Return plain JSON values: tuples as lists, not-a-number and infinity as null."""
        plain: dict[str, Any] = _plain(self)
        head = ("format", "record", "job", "as_found", "as_left")
        return {key: plain[key] for key in head} | {key: val for key, val in plain.items() if key not in head}


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, (tuple, list)):
        return [_plain(item) for item in value]
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
