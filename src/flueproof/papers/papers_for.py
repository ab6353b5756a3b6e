"""All papers that a judged record calls for, ready to be written to files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.papers.certificate import certificate_pdf
from flueproof.papers.content.outcome import paper_kind
from flueproof.papers.labels.content import sticker_of
from flueproof.papers.labels.sizes import shipped_sizes
from flueproof.papers.labels.sticker import sticker_pdf
from flueproof.papers.labels.zpl import sticker_zpl
from flueproof.papers.tag import tag_pdf

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import Judgement
    from flueproof.bench.record.record import Record
    from flueproof.papers.issue import Issue


def papers_for(record: Record, profile: Profile, judgement: Judgement, issue: Issue) -> dict[str, bytes]:
    """Return the papers by file name: certificate.pdf with sticker.pdf and sticker.zpl, or bench-report.pdf alone;
    tag.pdf where an as-found CO failure calls for it.

    Raises: TypesettingError, LabelSizeError.
    Source: own rule, see content/outcome.py.
    """
    certificate = paper_kind(record, judgement).certificate
    main = "certificate.pdf" if certificate else "bench-report.pdf"
    papers = {main: certificate_pdf(record, profile, judgement, issue)}
    sticker = sticker_of(record, judgement, issue)
    if sticker is not None:
        size = shipped_sizes().label(issue.label)
        papers["sticker.pdf"] = sticker_pdf(sticker, size, issue.issued_on)
        papers["sticker.zpl"] = sticker_zpl(sticker, size).encode("utf-8")
    tag = tag_pdf(record, judgement, issue)
    if tag is not None:
        papers["tag.pdf"] = tag
    return papers
