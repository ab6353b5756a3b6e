"""Making the files of a paper and keeping them with their hashes, inside the caller's transaction."""

from __future__ import annotations

import hashlib
import json
import zoneinfo
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, Final, Literal

from flueproof.bench.judgement import Judgement
from flueproof.bench.record.record import Record
from flueproof.papers.certificate_content import due_of
from flueproof.papers.content.outcome import OUTSIDE, paper_kind, verdict_of
from flueproof.papers.issue import Issue
from flueproof.papers.papers_for import papers_for
from flueproof.shop.records.keeping.blobs import keep_blob
from flueproof.shop.records.keeping.numbering import next_number
from flueproof.shop.records.models import Paper, PaperFile, Person, Shop, Visit
from flueproof.shop.records.visits.chain import canonical_json
from flueproof.shop.records.visits.judged import Judged

CERTIFICATE, REPORT = "certificate", "bench-report"
PREFIXES: Final = {CERTIFICATE: "FP", REPORT: "BR"}  # a report burns no certificate number
MEDIA: Final = {"pdf": "application/pdf", "zpl": "text/plain; charset=utf-8", "json": "application/json"}
ISSUE_FORMAT: Final = "flueproof-issue/1"


@dataclass(frozen=True, slots=True)
class Amendment:
    """What makes a paper an amended one: the old paper, why, and what is different (a sentence each)."""

    old: Paper
    why: str
    changed: tuple[str, ...]


def day_at_the_shop(now: datetime, shop: Shop) -> date:
    """Return the day in the shop's own time zone."""
    return now.astimezone(zoneinfo.ZoneInfo(shop.time_zone)).date()


def issue_of(shop: Shop, number: str, signer: str, issued_on: date, amendment: Amendment | None = None) -> Issue:
    """Return the issue with the shop's paper, units and labels.

    Raises: IssueError.
    """
    paper: Literal["a4", "letter"] = "a4" if shop.paper_size == "a4" else "letter"
    units: Literal["us", "si"] = "si" if shop.paper_units == "si" else "us"
    return Issue(
        number,
        issued_on,
        signer,
        None,
        paper,
        units,
        shop.link,
        shop.sticker_size,
        amendment.old.number if amendment else "",
        amendment.why if amendment else "",
        amendment.changed if amendment else (),
    )


def due_on_paper(record: Record, judgement: Judgement) -> date | None:
    """Return the due date that stands on the paper, None where none does."""
    kind = paper_kind(record, judgement)
    return due_of(record) if kind.certificate and kind.sticker != OUTSIDE else None


def make_paper(
    visit: Visit, stands: Judged, signer: Person, now: datetime, shop: Shop, amendment: Amendment | None = None
) -> Paper:
    """Number, set and keep a paper with its files; the caller holds the visit and has refused what must be refused.

    Raises: PapersError; the caller's transaction then takes the number back.
    """
    record, judgement = stands.record, stands.judgement
    if record is None or judgement is None:
        raise ValueError("a paper needs a judged record")
    kind = CERTIFICATE if paper_kind(record, judgement, stands.profile).certificate else REPORT
    issued_on = day_at_the_shop(now, shop)
    number = next_number(PREFIXES[kind], issued_on.year)
    issue = issue_of(shop, number, signer.name_on_papers, issued_on, amendment)
    verdict = verdict_of(judgement)
    paper = Paper.objects.create(
        number=number,
        kind=kind,
        job=visit.job,
        visit=visit,
        outcome=verdict.outcome if verdict else "incomplete",
        record_position=stands.last_position,
        record_hash=stands.last_hash,
        record=canonical_json(stands.tree),
        judgement=judgement.to_json_dict(),
        rules=judgement.rules_version,
        issued_on=issued_on,
        signed_at=now,
        signer=signer,
        signer_name=signer.name_on_papers,
        due_on=due_on_paper(record, judgement),
        amends=amendment.old if amendment else None,
        amended_why=amendment.why if amendment else "",
    )
    files = papers_for(record, stands.profile, judgement, issue)
    files["judgement.json"] = _json_bytes(paper.judgement)
    files["record.json"] = paper.record.encode()
    files["issue.json"] = _json_bytes(_cover(paper, issue, files))
    for name, content in files.items():
        media = MEDIA[name.rpartition(".")[2]]
        PaperFile.objects.create(paper=paper, name=name, blob=keep_blob(content, media, now))
    return paper


def _cover(paper: Paper, issue: Issue, files: dict[str, bytes]) -> dict[str, Any]:
    """Return what binds the files together: who issued what when, on which record, and each file's SHA-256."""
    return {
        "format": ISSUE_FORMAT,
        "number": paper.number,
        "kind": paper.kind,
        "job": paper.job.number,
        "outcome": paper.outcome,
        "issued_on": paper.issued_on.isoformat(),
        "signed_at": paper.signed_at.isoformat(),
        "signer": paper.signer_name,
        "due_on": paper.due_on.isoformat() if paper.due_on else None,
        "amends": issue.amends or None,
        "amended_why": issue.amended_why or None,
        "changed": list(issue.changed),
        "record_position": paper.record_position,
        "record_hash": paper.record_hash,
        "files": {name: hashlib.sha256(content).hexdigest() for name, content in sorted(files.items())},
    }


def _json_bytes(tree: Any) -> bytes:
    return (json.dumps(tree, ensure_ascii=False, allow_nan=False, indent=2) + "\n").encode()
