"""The certificate, or the bench report where no certificate is due, as PDF."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flueproof.papers.certificate_content import certificate_content
from flueproof.papers.typesetting import typeset, typeset_pictures

if TYPE_CHECKING:
    from flueproof.analyzer.profile import Profile
    from flueproof.bench.judgement import Judgement
    from flueproof.bench.record.record import Record
    from flueproof.papers.issue import Issue


def certificate_pdf(record: Record, profile: Profile, judgement: Judgement, issue: Issue) -> bytes:
    """Return the certificate of a judged record as PDF; where the outcome allows none, the bench report.

    Raises: TypesettingError.
    Source: ISO/IEC 17025:2017, 7.8.2 and 7.8.4, second-hand.
    """
    return typeset("certificate.typ", certificate_content(record, profile, judgement, issue))


def certificate_pictures(record: Record, profile: Profile, judgement: Judgement, issue: Issue) -> tuple[bytes, ...]:
    """Return the pages of the same paper as pictures (PNG), to be looked at before it is signed.

    Raises: TypesettingError.
    Source: common practice, no source.
    """
    return typeset_pictures("certificate.typ", certificate_content(record, profile, judgement, issue))
