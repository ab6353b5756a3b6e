"""Papers as they travel."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from ninja import Schema

from flueproof.shop.records.models import Paper


class PaperFileOut(Schema):
    """One file of a paper; sha256 of its bytes."""

    name: str
    media_type: str
    size: int
    sha256: str


class PaperOut(Schema):
    """One issue of a paper. An amended one names the paper it amends."""

    number: str
    kind: str
    job: str
    owner: int
    analyzer: int
    outcome: str
    issued_on: date
    signed_at: datetime
    signer: str
    due_on: date | None
    amends: str | None
    amended_why: str
    amended_by: str | None
    rules: str
    record_hash: str


class PaperWithFiles(PaperOut):
    """One issue of a paper with its files."""

    files: list[PaperFileOut]


class PapersOut(Schema):
    """A page of papers, the newest first."""

    rows: list[PaperOut]
    next: str


def paper_out(paper: Paper) -> PaperOut:
    """Return a paper as it travels."""
    return PaperOut(**_fields(paper))


def paper_with_files(paper: Paper) -> PaperWithFiles:
    """Return a paper with its files as it travels."""
    files = [
        PaperFileOut(name=file.name, media_type=file.blob.media_type, size=file.blob.size, sha256=file.blob.sha256)
        for file in paper.files.select_related("blob").defer("blob__content")
    ]
    return PaperWithFiles(**_fields(paper), files=files)


def _fields(paper: Paper) -> dict[str, Any]:
    follower = getattr(paper, "amended_by", None)
    return {
        "number": paper.number,
        "kind": paper.kind,
        "job": paper.job.number,
        "owner": paper.job.owner_id,
        "analyzer": paper.job.analyzer_id,
        "outcome": paper.outcome,
        "issued_on": paper.issued_on,
        "signed_at": paper.signed_at,
        "signer": paper.signer_name,
        "due_on": paper.due_on,
        "amends": paper.amends.number if paper.amends else None,
        "amended_why": paper.amended_why,
        "amended_by": follower.number if follower is not None else None,
        "rules": paper.rules,
        "record_hash": paper.record_hash,
    }
