"""Jobs that may be learned from: closed, the cause confirmed by somebody; kept apart from the shipped tables."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flueproof.faults.errors import LearningError
from flueproof.faults.inference.evidence import Number


@dataclass(frozen=True, slots=True)
class ClosedJob:
    """What one job showed. job: its number; causes: confirmed, none (nothing was wrong) to two; answers: what was
    said, asked and measured before anything was mended, by observation; confirmed_by: who found the cause, "" while it
    is a guess; fixed: whether the mend of that cause was confirmed to help; day: of closing, YYYY-MM-DD; complained:
    whether the owner's complaint was taken down, so that phrases not among the answers were not said.
    """

    job: str
    causes: tuple[str, ...]
    answers: Mapping[str, str | Number]
    confirmed_by: str
    fixed: bool
    day: str
    complained: bool = False


@dataclass(frozen=True, slots=True)
class Ledger:
    """All jobs learned from, and which changes the manager refused (keys of `Change`)."""

    jobs: tuple[ClosedJob, ...] = ()
    refused: frozenset[str] = frozenset()

    def with_job(self, job: ClosedJob) -> Ledger:
        """Return the ledger with one more job.

        Raises: LearningError (not confirmed, mend not confirmed, more than two causes, already there).
        """
        if not job.confirmed_by.strip() or not job.fixed:
            raise LearningError(f"{job.job}: cause or mend is not confirmed; nothing is learned from a guess.")
        if len(job.causes) > 2 or len(set(job.causes)) != len(job.causes):
            raise LearningError(
                f"{job.job}: {len(job.causes)} causes; one job teaches none, one or two different ones."
            )
        if any(one.job == job.job for one in self.jobs):
            raise LearningError(f"{job.job}: is in the ledger; take it back first.")
        return dataclasses.replace(self, jobs=(*self.jobs, job))

    def without(self, job: str) -> Ledger:
        """Return the ledger as if a job had never been learned from.

        Raises: LearningError when it is not there.
        """
        left = tuple(one for one in self.jobs if one.job != job)
        if len(left) == len(self.jobs):
            raise LearningError(f"{job}: was never learned from.")
        return dataclasses.replace(self, jobs=left)

    def refusing(self, change: str) -> Ledger:
        """Return the ledger with one change refused: what the tables say there stays."""
        return dataclasses.replace(self, refused=self.refused | {change})

    def allowing(self, change: str) -> Ledger:
        """Return the ledger with a refused change allowed again."""
        return dataclasses.replace(self, refused=self.refused - {change})

    def to_json_dict(self) -> dict[str, Any]:
        """Return plain values for keeping."""
        return {"jobs": [_job_out(job) for job in self.jobs], "refused": sorted(self.refused)}


def ledger_from(tree: Mapping[str, Any]) -> Ledger:
    """Return the ledger of `to_json_dict`; every job is looked at again.

    Raises: LearningError (unreadable, or a job that may not be learned from).
    """
    ledger = Ledger()
    try:
        for row in tree["jobs"]:
            ledger = ledger.with_job(_job_in(row))
        refused = frozenset(str(one) for one in tree["refused"])
    except (KeyError, TypeError, ValueError) as error:
        raise LearningError(f"the ledger is not readable: {error!r}.") from error
    return dataclasses.replace(ledger, refused=refused)


def _job_out(job: ClosedJob) -> dict[str, Any]:
    row: dict[str, Any] = {"job": job.job, "causes": list(job.causes), "confirmed_by": job.confirmed_by}
    answers = {k: dataclasses.asdict(v) if isinstance(v, Number) else v for k, v in job.answers.items()}
    return row | {"fixed": job.fixed, "day": job.day, "complained": job.complained, "answers": answers}


def _job_in(row: Mapping[str, Any]) -> ClosedJob:
    answers = {key: Number(**value) if isinstance(value, dict) else str(value) for key, value in row["answers"].items()}
    causes = tuple(str(one) for one in row["causes"])
    return ClosedJob(
        job=str(row["job"]),
        causes=causes,
        answers=answers,
        confirmed_by=str(row["confirmed_by"]),
        fixed=row["fixed"] is True,
        day=str(row["day"]),
        complained=row.get("complained") is True,
    )
