"""An amended paper: a new one that names the old, says why and what is different. The old one stays as it was."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from django.db import transaction

from flueproof.papers.errors import PapersError
from flueproof.shop.records.access.outbox import tell
from flueproof.shop.records.issuing.differences import what_changed
from flueproof.shop.records.issuing.making import CERTIFICATE, Amendment, make_paper
from flueproof.shop.records.issuing.obligations import update_obligations
from flueproof.shop.records.issuing.reasons import reasons_against
from flueproof.shop.records.issuing.refused import Reason, SigningRefusedError
from flueproof.shop.records.issuing.signing import not_set, refuse_a_changed_record, told
from flueproof.shop.records.jobs.moving import note_moment
from flueproof.shop.records.models import Paper, PaperMoment, Person, Shop, Visit
from flueproof.shop.records.visits.judged import Judged, judged

REPLACED: Final = "replaced"
UNSAID: Final = "(the reason that you give)"


def amend_paper(old: Paper, signer: Person, why: str, seen_hash: str, now: datetime, shop: Shop) -> Paper:
    """Issue a paper that takes the place of `old`, from the record as it stands, and return it.

    why: goes on the paper; pressed twice it is one paper. Obligations that carry the old paper's day follow the new.
    Raises: RecordChangedError, SigningRefusedError; nothing is written then.
    Source: ISO/IEC 17025:2017, 7.8.8, second-hand.
    """
    if not why.strip():
        raise SigningRefusedError([Reason("no-why", "Say why the paper is amended; it goes on the new paper.")])
    try:
        with transaction.atomic():
            visit = Visit.objects.select_for_update().get(pk=old.visit_id)
            if (newer := Paper.objects.filter(amends=old).first()) is not None:
                return _the_same(newer, old, signer, why, seen_hash)
            stands = judged(visit)
            refuse_a_changed_record(visit, seen_hash, stands)
            if against := reasons_against(visit, signer, stands, shop, amending=old):
                raise SigningRefusedError(against)
            paper = make_paper(visit, stands, signer, now, shop, draft_amendment(old, stands, why.strip()))
            if paper.kind == CERTIFICATE and stands.record is not None and paper.outcome != "outside-as-ordered":
                carried = visit.job.analyzer.obligations.filter(last_done__isnull=False).values_list("pk", flat=True)
                update_obligations(visit.job, stands.record, set(carried))
            PaperMoment.objects.create(
                paper=old, at=now, by=signer, what=REPLACED, why=f"{paper.number} takes its place"
            )
            note_moment(visit.job, "paper amended", signer, now, text=f"{old.number} is replaced by {paper.number}")
            tell("paper-amended", {**told(paper), "why": paper.amended_why}, now)
    except PapersError as trouble:
        raise SigningRefusedError([not_set(trouble)]) from trouble
    return paper


def draft_amendment(old: Paper, stands: Judged, why: str) -> Amendment:
    """Return what an amended paper would say of the old one, from the record as it stands."""
    changed = what_changed(old, stands.tree, stands.judgement) if stands.judgement is not None else []
    return Amendment(old, why, tuple(changed))


def _the_same(newer: Paper, old: Paper, signer: Person, why: str, seen_hash: str) -> Paper:
    """Return the newer paper when it is what was asked for a second time.

    Raises: SigningRefusedError.
    """
    if (newer.signer_id, newer.amended_why, newer.record_hash) == (signer.pk, why.strip(), seen_hash):
        return newer
    text = f"{old.number} was already amended by {newer.number}. Amend that one if it is wrong."
    raise SigningRefusedError([Reason("already-amended", text)])
