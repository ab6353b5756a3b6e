"""Whether an issued paper is still what was issued: bytes by hashes, judgement by record, record by event rows."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from flueproof.bench.errors import BenchError
from flueproof.shop.records.issuing.recomputing import OtherRulesError, recompute, same_numbers
from flueproof.shop.records.models import Paper, PaperFile, PaperMoment, Person
from flueproof.shop.records.visits.chain import broken_links, canonical_json
from flueproof.shop.records.visits.projection import tree_of

DISAGREES = "found not to agree"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing looked at; agrees: None where it cannot be told; text: what was found, in words."""

    what: str
    agrees: bool | None
    text: str


def verify_paper(paper: Paper, by: Person | None, now: datetime) -> list[Finding]:
    """Look at everything that was kept of a paper and return what agrees; a disagreement is kept as a moment."""
    files = {row.name: row for row in paper.files.select_related("blob")}
    found = [_file(row) for row in files.values()]
    found += [*_cover(files), _record(paper, files), _rows(paper), _judgement(paper, files)]
    bad = [finding.what for finding in found if finding.agrees is False]
    if bad:
        PaperMoment.objects.create(paper=paper, at=now, by=by, what=DISAGREES, why=", ".join(bad)[:200])
    return found


def _bytes(row: PaperFile) -> bytes:
    return bytes(row.blob.content)


def _file(row: PaperFile) -> Finding:
    agrees = hashlib.sha256(_bytes(row)).hexdigest() == row.blob.sha256 and len(_bytes(row)) == row.blob.size
    return Finding(row.name, agrees, "the bytes give the SHA-256 they were kept under" if agrees else "bytes changed")


def _cover(files: dict[str, PaperFile]) -> Iterator[Finding]:
    cover = _json(files.get("issue.json"))
    listed = cover.get("files", {}) if isinstance(cover, dict) else {}
    wrong = [name for name, row in files.items() if name != "issue.json" and listed.get(name) != row.blob.sha256]
    missing = sorted(set(listed) - set(files))
    text = "lists every file with its hash"
    if wrong or missing:
        text = f"does not list {', '.join([*wrong, *missing])} as kept"
    yield Finding("issue.json against the files", bool(listed) and not wrong and not missing, text)


def _record(paper: Paper, files: dict[str, PaperFile]) -> Finding:
    row = files.get("record.json")
    agrees = row is not None and _bytes(row) == paper.record.encode()
    return Finding("record.json", agrees, "is the record that was signed" if agrees else "is another record")


def _rows(paper: Paper) -> Finding:
    what = f"the bench record up to row {paper.record_position}"
    if broken := broken_links(paper.visit):
        return Finding(what, agrees=False, text="; ".join(broken))
    rows = list(paper.visit.events.filter(position__lte=paper.record_position).order_by("position"))
    same = bool(rows) and rows[-1].hash == paper.record_hash
    same = same and canonical_json(tree_of([(row.kind, row.body) for row in rows])) == paper.record
    return Finding(what, same, "gives the record that was signed" if same else "gives another record")


def _judgement(paper: Paper, files: dict[str, PaperFile]) -> Finding:
    what = "the judgement, computed again"
    if not same_numbers(_json(files.get("judgement.json")), paper.judgement):
        return Finding("judgement.json", agrees=False, text="is another judgement than the one kept")
    try:
        agrees = same_numbers(json.loads(json.dumps(recompute(paper))), paper.judgement)
    except OtherRulesError as other:
        return Finding(what, agrees=None, text=f"cannot be told: {other}")
    except BenchError as error:
        return Finding(what, agrees=False, text=f"cannot be computed: {error}")
    return Finding(what, agrees, "agrees to 12 digits" if agrees else "gives other numbers")


def _json(row: PaperFile | None) -> Any:
    try:
        return json.loads(_bytes(row)) if row is not None else None
    except ValueError:
        return None
