"""What a search found, as lines of the page: marked text, a line of facts, an address."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from django.urls import reverse

from flueproof.shop.frame.presenters.moments import day_text
from flueproof.shop.frame.presenters.tag import make_and_model
from flueproof.shop.records.finding.found import Found, Group, Hit
from flueproof.shop.records.finding.texts import ANALYZER, CONTACT, JOB, OWNER, PAPER, REFERENCE
from flueproof.shop.records.models import Job

Parts = tuple[tuple[str, bool], ...]
_HEADINGS: Final = {
    JOB: "Jobs",
    ANALYZER: "Analyzers",
    OWNER: "Owners",
    CONTACT: "People of owners",
    PAPER: "Certificates and reports",
    REFERENCE: "Cylinders and references",
}
# kind -> page and what names the row there; kind -> label of its title among the texts that are searched
_PAGES: Final = {
    JOB: ("counter:job", "number"),
    ANALYZER: ("counter:analyzer", "pk"),
    OWNER: ("counter:owner", "pk"),
    CONTACT: ("counter:owner", "owner_id"),
    PAPER: ("papers:paper", "number"),
    REFERENCE: ("gas_rack:reference", "code"),
}
_TITLES: Final = {
    JOB: ("job", "number"),
    ANALYZER: ("serial", "serial"),
    OWNER: ("owner", "name"),
    CONTACT: ("person", "name"),
    PAPER: ("certificate", "number"),
    REFERENCE: ("scan code", "code"),
}


@dataclass(frozen=True, slots=True)
class HitLine:
    """One hit: title and further matches in marked parts, facts in words, where it leads, and its open job if any."""

    address: str
    title: Parts
    plate: bool
    facts: tuple[str, ...]
    others: tuple[tuple[str, Parts], ...]
    exact: bool
    job_number: str = ""
    job_address: str = ""


@dataclass(frozen=True, slots=True)
class HitGroup:
    """The hits of one kind under their heading; `count` says "12 and more" where the list is cut."""

    kind: str
    heading: str
    count: str
    lines: tuple[HitLine, ...]


def address_of_hit(hit: Hit) -> str:
    """Return the page of what was found."""
    name, key = _PAGES[hit.kind]
    return reverse(name, args=[getattr(hit.row, key)])


def hit_groups(found: Found) -> list[HitGroup]:
    """Return the groups of a search for the page."""
    open_jobs = _open_jobs([hit.row.pk for group in found.groups for hit in group.hits if hit.kind == ANALYZER])
    return [_group(group, open_jobs) for group in found.groups]


def _open_jobs(analyzers: list[int]) -> dict[int, str]:
    if not analyzers:
        return {}
    jobs = Job.objects.filter(analyzer_id__in=analyzers, state__in=Job.OPEN).order_by("pk")
    return dict(jobs.values_list("analyzer_id", "number"))


def _group(group: Group, open_jobs: dict[int, str]) -> HitGroup:
    count = f"{len(group.hits)} and more" if group.more else str(len(group.hits))
    return HitGroup(group.kind, _HEADINGS[group.kind], count, tuple(_line(hit, open_jobs) for hit in group.hits))


def _line(hit: Hit, open_jobs: dict[int, str]) -> HitLine:
    label, text = _title(hit)
    marked = next((match.parts for match in hit.matches if match.label == label and match.text == text), None)
    number = open_jobs.get(hit.row.pk, "") if hit.kind == ANALYZER else ""
    facts = tuple(fact for fact in _facts(hit.kind, hit.row) if fact)
    return HitLine(
        address=address_of_hit(hit),
        title=marked or ((text, False),),
        plate=hit.kind in {JOB, ANALYZER, PAPER, REFERENCE},
        facts=facts,
        others=tuple((match.label, match.parts) for match in hit.matches if (match.label, match.text) != (label, text)),
        exact=hit.exact,
        job_number=number,
        job_address=reverse("counter:job", args=[number]) if number else "",
    )


def _title(hit: Hit) -> tuple[str, str]:
    label, attribute = _TITLES[hit.kind]
    return label, str(getattr(hit.row, attribute))


def _facts(kind: str, row: Any) -> tuple[str, ...]:
    if kind == JOB:
        promised = f"promised {day_text(row.promised_on)}" if row.promised_on and row.is_open else ""
        return f"{row.analyzer.model} {row.analyzer.serial}", row.owner.name, row.get_state_display(), promised
    if kind == ANALYZER:
        return make_and_model(row), row.owner.name
    if kind == OWNER:
        merged = f"merged into {row.merged_into}" if row.merged_into else ""
        return f"customer number {row.number}" if row.number else "", merged
    if kind == CONTACT:
        return row.owner.name, row.duty, row.phone
    if kind == PAPER:
        return row.kind.replace("-", " "), f"job {row.job.number}", f"issued {day_text(row.issued_on)}"
    good = f"good until {day_text(row.good_until)}" if row.good_until else ""
    return row.title, row.get_state_display(), good
