"""A reference found wrong: how far its visits are judged again, what changed, and who must be told."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any, Final

from django.core.paginator import Paginator
from django.db.models import Count, Prefetch, Q, Sum

from flueproof.analyzer.units import difference_from_core, from_core
from flueproof.impact.statements.wording import ONE_RULE
from flueproof.shop.duties.presenters.duty_list import line_of
from flueproof.shop.duties.presenters.picture import NAMES
from flueproof.shop.frame.presenters.amounts import SIGNS, printed
from flueproof.shop.records.duties.letters import NOT_THERE
from flueproof.shop.records.duties.wrong_reference import progress_of
from flueproof.shop.records.models import DutyAct, Owner, Paper, RecomputedVisit, ReferenceFinding, Shop

A_PAGE: Final = 100
_US: Final = {"degC": "degF", "Pa": "inH2O"}
_PLACES: Final = {"ppm": 0, "inH2O": 3}


@dataclass(frozen=True, slots=True)
class Point:
    """One test point before and after, ready to print."""

    channel: str
    phase: str
    before: str
    after: str
    reference_before: str
    reference_after: str
    error_before: str
    error_after: str
    limit: str
    changed: bool
    worse: bool


def finding_context(finding: ReferenceFinding, asked: Any, now: dt.datetime) -> dict[str, Any]:
    """Return the context of the page: progress, summary, visits with danger first, owners."""
    rows = finding.visits.select_related("visit__job__owner", "visit__job__analyzer").prefetch_related(
        Prefetch("visit__papers", Paper.objects.defer("record", "judgement"))
    )
    page = Paginator(rows.order_by("-danger", "-changed", "id"), A_PAGE).get_page(asked.get("page"))
    return {
        **progress_context(finding),
        "summary": summary(finding),
        "page": page,
        "visits": [{"row": row, "points": changed_points(row), "state": visit_words(row)} for row in page.object_list],
        "owners": owners_of(finding, now),
        "values": values_of(finding),
        "rule": ONE_RULE,
    }


def progress_context(finding: ReferenceFinding) -> dict[str, Any]:
    """Return how far it is, for the bar that reloads itself."""
    return {"finding": finding, "reference": finding.reference, "progress": progress_of(finding)}


def summary(finding: ReferenceFinding) -> dict[str, int]:
    """Return the counts over all visits that were judged again so far."""
    counted = finding.visits.aggregate(
        judged=Count("id"),
        visits_lost=Count("id", filter=Q(danger__gt=0)),
        visits_changed=Count("id", filter=Q(changed__gt=0)),
        troubles=Count("id", filter=~Q(trouble="")),
        points_changed=Sum("changed", default=0),
        points_lost=Sum("danger", default=0),
    )
    counted["same"] = counted["judged"] - counted["visits_changed"] - counted["troubles"]
    return counted


def points_of(row: RecomputedVisit) -> list[Point]:
    """Return the points of a visit before and after."""
    before, after = row.before.get("points", []), row.after.get("points", [])
    units = "si" if Shop.here().paper_units == "si" else "us"
    return [_point(one, other, units) for one, other in zip(before, after, strict=True)]


def changed_points(row: RecomputedVisit) -> list[Point]:
    """Return the points whose statement is another one now, those that lost conform first."""
    return sorted((point for point in points_of(row) if point.changed), key=lambda point: not point.worse)


def visit_words(row: RecomputedVisit) -> str:
    """Return in a word what became of a visit."""
    if row.trouble:
        return f"could not be judged again: {row.trouble}"
    if row.danger:
        return "lost conform"
    if row.changed:
        return "changed"
    return "stays as it was" if row.before else "not used in the time in question"


def owners_of(finding: ReferenceFinding, now: dt.datetime) -> list[dict[str, Any]]:
    """Return the owners to be told, those to call first on top: their duties, addresses, letters."""
    owners: dict[int, dict[str, Any]] = {}
    duties = finding.duties.exclude(state="overtaken").select_related("owner", "analyzer", "visit__job")
    acts = Prefetch("acts", DutyAct.objects.select_related("by", "letter").order_by("id"))
    for duty in duties.prefetch_related("owner__contacts", acts).order_by("owner__name", "id"):
        own = owners.setdefault(duty.owner_id, _owner(duty.owner))
        own["lines"].append(line_of(duty, now))
        own["call"] = own["call"] or (duty.state == "open" and bool(duty.facts.get("same_day")))
        own["open"] += duty.state == "open"
        own["written"] = own["written"] or any(
            act.letter is not None and act.letter.state not in NOT_THERE for act in duty.acts.all()
        )
    return sorted(owners.values(), key=lambda own: (not own["call"], not own["open"], own["owner"].name.lower()))


def values_of(finding: ReferenceFinding) -> list[tuple[str, str, str]]:
    """Return (what, as the certificate said, as it is) for each value that differs."""
    old, new = finding.reference.content, finding.content
    found = []
    parts, right = old.get("components", {}), new.get("components", {})
    for gas in dict.fromkeys((*parts, *right)):
        one, other = _component(parts.get(gas)), _component(right.get(gas))
        if one != other:
            found.append((NAMES.get(gas, gas.upper()), one, other))
    found += [
        (key.replace("_", " ").capitalize(), str(old.get(key, "–")), str(new.get(key, "–")))
        for key in dict.fromkeys((*old, *new))
        if key not in {"components", "kind"} and old.get(key) != new.get(key)
    ]
    if finding.shift:
        unit = SIGNS.get(str(new.get("unit")), str(new.get("unit", "")))
        found.append(("Every value it gave", "as written", f"{finding.shift:+g} {unit}"))
    return found


def _owner(owner: Owner) -> dict[str, Any]:
    contacts = list(owner.contacts.all())
    email = "" if owner.no_letters else next((one.email for one in contacts if one.email), "")
    phones = [one for one in contacts if one.phone]
    return {"owner": owner, "lines": [], "call": False, "open": 0, "written": False, "email": email, "phones": phones}


def _component(part: dict[str, Any] | None) -> str:
    if not part:
        return "not named"
    wide = f" ± {part['expanded_uncertainty']:g}" if part.get("expanded_uncertainty") is not None else ""
    return f"{part['value']:g}{wide} {part['unit']}"


def _point(one: dict[str, Any], other: dict[str, Any], units: str) -> Point:
    unit = _US.get(one["unit"], one["unit"]) if units == "us" else one["unit"]
    places, sign = _PLACES.get(unit, 1), SIGNS.get(unit, unit)

    def value(core: float | None) -> str:
        return "–" if core is None else f"{printed(float(from_core(core, unit, one['unit'])), places)} {sign}"

    def error(side: dict[str, Any]) -> str:
        if side["error"] is None:
            return "no reading"
        off, wide = (float(difference_from_core(side[key], unit, one["unit"])) for key in ("error", "U"))
        return f"{'+' if off > 0 else ''}{printed(off, places)} ± {wide:.{places}f} {sign}"

    limit = float(difference_from_core(one["limit"], unit, one["unit"])) if one["limit"] is not None else None
    return Point(
        channel=NAMES.get(one["channel"], one["channel"]),
        phase=one["phase"].replace("-", " "),
        before=one["statement"],
        after=other["statement"],
        reference_before=value(one["reference"]),
        reference_after=value(other["reference"]),
        error_before=error(one),
        error_after=error(other),
        limit="–" if limit is None else f"± {limit:.{places}f} {sign}",
        changed=one["statement"] != other["statement"],
        worse=one["statement"] == "conform" and other["statement"] != "conform",
    )
