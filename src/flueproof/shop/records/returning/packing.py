"""What is checked before a box is closed: what the record says already, and what a person has to look at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from flueproof.bench.record.steps.surroundings import SettingsStep
from flueproof.papers.content.outcome import do_not_use
from flueproof.shop.records.issuing.reasons import standing_paper
from flueproof.shop.records.mailing.facts import day_words
from flueproof.shop.records.models import BoxPhoto, Job, Paper, Visit
from flueproof.shop.records.returning.last_gas import last_gas_check
from flueproof.shop.records.returning.unrepaired import tag_words
from flueproof.shop.records.visits.judged import Judged, judged

YES, NO, NOT_NEEDED = "yes", "no", "not needed"
TAG: Final = "do-not-use"


@dataclass(frozen=True, slots=True)
class Check:
    """One thing to be sure of before the box leaves.

    name: as it is kept; drawing: of our own; says: the answer that the records give already ("" where they give
    none), told: in their words; safe: whether it may be left undone with a written reason.
    """

    name: str
    question: str
    drawing: str
    says: str = ""
    told: str = ""
    safe: bool = True


def checks_of(job: Job) -> list[Check]:
    """Return the checks of a job's box, in the order of packing."""
    visit: Visit | None = job.visits.order_by("-number").first()
    found = judged(visit) if visit is not None else None
    paper = standing_paper(visit) if visit is not None else None
    return [
        _settings(found),
        _due_date(job, found, paper),
        last_gas(job, found, paper),
        _trap(job),
        _certificate(paper),
        _sticker(paper),
        _tag(job, found, paper),
        _photos(job),
    ]


def last_gas(job: Job, found: Judged | None, paper: Paper | None) -> Check:
    """Return the check of the last gas through the owner's own path, from the record where it says so."""
    question = "After it was put together again: gas once more through the owner's own probe, and it reads right"
    came = any(str(part).lower().startswith("probe") for part in job.enclosed)
    if found is None or found.record is None:
        told = "" if came else "Nothing was recorded on the bench."
        return Check("gas-check", question, "cylinder", "" if came else NOT_NEEDED, told)
    seen = last_gas_check(found)
    if seen.words and not seen.good and paper is not None and paper.outcome == "outside-as-ordered":
        return Check("gas-check", question, "cylinder", NOT_NEEDED, f"{paper.number} says so, as ordered. {seen.words}")
    if seen.good:
        return Check("gas-check", question, "cylinder", YES, seen.words)
    if not came and not seen.words:
        return Check("gas-check", question, "cylinder", NOT_NEEDED, "No probe came with it; the paper says so.")
    return Check("gas-check", question, "cylinder", "", seen.words)


def tag_needed(job: Job) -> bool:
    """Return whether this analyzer leaves with a do-not-use tag only."""
    visit: Visit | None = job.visits.order_by("-number").first()
    found = judged(visit) if visit is not None else None
    return _tag(job, found, standing_paper(visit) if visit is not None else None).says != NOT_NEEDED


def _settings(found: Judged | None) -> Check:
    question = "Settings and print header are as they came, or as the owner wants them"
    changed = _changed_settings(found)
    if found is not None and not changed:
        return Check("settings", question, "gauge", NOT_NEEDED, "The record says that no setting was changed.")
    told = f"Changed on the bench: {', '.join(changed)}." if changed else ""
    return Check("settings", question, "gauge", "", told)


def _changed_settings(found: Judged | None) -> list[str]:
    if found is None or found.record is None:
        return []
    steps = [step for step in found.record.standing_steps() if isinstance(step, SettingsStep)]
    return list(dict.fromkeys(name for step in steps for name in step.changed))


def _due_date(job: Job, found: Judged | None, paper: Paper | None) -> Check:
    question = "The due date inside the analyzer is set anew"
    if paper is None or paper.due_on is None or not job.due_wanted:
        return Check("due-date", question, "clock", NOT_NEEDED, "No due date is on the paper.")
    named = [name for name in _changed_settings(found) if "due" in name.lower() or "service date" in name.lower()]
    if named:
        return Check("due-date", question, "clock", YES, f"The record says so: {', '.join(named)}.")
    return Check("due-date", question, "clock", "", f"The paper says {day_words(paper.due_on)}.")


def _trap(job: Job) -> Check:
    question = "Trap and hose are empty and dry: water that travels gets into the pump"
    came = {"trap", "hose"} & {str(part).lower() for part in job.enclosed}
    told = "" if came else "Neither came with it."
    return Check("dry", question, "drop", "" if came else NOT_NEEDED, told)


def _certificate(paper: Paper | None) -> Check:
    question = "The paper is in the box"
    if paper is None:
        return Check("paper", question, "tag", NOT_NEEDED, "No paper was signed for this job.")
    kind = "certificate" if paper.kind == "certificate" else "bench report"
    return Check("paper", question, "tag", "", f"{paper.number}, {kind}.")


def _sticker(paper: Paper | None) -> Check:
    question = "The sticker is on the analyzer"
    if paper is None or not paper.files.filter(name="sticker.pdf").exists():
        return Check("sticker", question, "sticker", NOT_NEEDED, "This outcome has no sticker.")
    return Check("sticker", question, "sticker", "", f"Of {paper.number}; take an older one off.")


def _tag(job: Job, found: Judged | None, paper: Paper | None) -> Check:
    question = "The DO NOT USE tag is tied on"
    words = tag_words(job)
    if words:
        return Check(TAG, question, "alarm", "", f"It goes back unrepaired: {words}", safe=False)
    if paper is not None and paper.files.filter(name="tag.pdf").exists():
        return Check(TAG, question, "alarm", "", f"{paper.number} has one: CO reads too low.", safe=False)
    judgement = found.judgement if found is not None else None
    if paper is None and judgement is not None and do_not_use(judgement):
        return Check(TAG, question, "alarm", "", "CO was found reading too low, and nothing says it is mended.", False)
    return Check(TAG, question, "alarm", NOT_NEEDED, "This outcome asks for none.")


def _photos(job: Job) -> Check:
    question = "A photo shows the open box as it leaves"
    count = BoxPhoto.objects.filter(job=job, when="pack-out").count()
    told = f"{count} photo{'' if count == 1 else 's'} kept." if count else ""
    return Check("photo", question, "box", YES if count else "", told)
