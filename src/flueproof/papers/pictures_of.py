"""All papers that a judged record calls for as pictures, to be looked at before anything is signed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.papers.certificate import certificate_pictures
from flueproof.papers.labels.content import sticker_of
from flueproof.papers.labels.sizes import shipped_sizes
from flueproof.papers.labels.sticker import sticker_picture
from flueproof.papers.tag import tag_picture

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import Judgement
    from flueproof.bench.record.record import Record
    from flueproof.papers.issue import Issue


def pictures_of(record: Record, profile: Profile, judgement: Judgement, issue: Issue) -> dict[str, bytes]:
    """Return what `papers_for` would make, as pictures (PNG) by name: page-1, page-2 ..., sticker, tag.

    Raises: TypesettingError, LabelSizeError.
    Source: common practice, no source.
    """
    pages = certificate_pictures(record, profile, judgement, issue)
    pictures = {f"page-{number}": page for number, page in enumerate(pages, start=1)}
    sticker = sticker_of(record, judgement, issue)
    if sticker is not None:
        pictures["sticker"] = sticker_picture(sticker, shipped_sizes().label(issue.label), issue.issued_on)
    tag = tag_picture(record, judgement, issue)
    if tag is not None:
        pictures["tag"] = tag
    return pictures
