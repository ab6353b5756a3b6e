"""One request for the counter: each analyzer, what is on file for it, and what can be done."""

from __future__ import annotations

from dataclasses import dataclass

from flueproof.shop.frame.presenters.tag import make_and_model
from flueproof.shop.records.intake.asking.on_file import analyzer_of, asked_before, like_it, open_job_of, owner_now
from flueproof.shop.records.models import Analyzer, Job, RequestedAnalyzer, ServiceRequest
from flueproof.shop.requests.presenters.summary import Said, said_of


@dataclass(frozen=True, slots=True)
class OnFile:
    """One requested analyzer: what it says, the analyzer on file, those that look like it, the job in the way.

    job: its own job; here: the open job that its analyzer has without this request; away: lost, stolen or not;
    others: open requests for the same serial.
    """

    said: Said
    analyzer: Analyzer | None
    named: str
    owner: str
    likes: list[Analyzer]
    job: Job | None
    here: Job | None
    away: str
    others: list[ServiceRequest]

    @property
    def may_be_added(self) -> bool:
        """Return True where it can be put on file with the job."""
        return self.job is None and self.analyzer is None and bool(self.said.row.serial and self.said.row.model)


def on_file(request: ServiceRequest, currency: str) -> list[OnFile]:
    """Return each analyzer of a request with what is on file for it."""
    return [_looked_up(said) for said in said_of(request, currency)]


def _looked_up(said: Said) -> OnFile:
    row: RequestedAnalyzer = said.row
    analyzer = analyzer_of(row)
    likes = [] if analyzer is not None or row.job is not None else like_it(row)
    here = open_job_of(analyzer) if analyzer is not None and row.job is None else None
    named = make_and_model(analyzer) if analyzer else ""
    owner = str(owner_now(analyzer.owner)) if analyzer else ""
    away = analyzer.get_whereabouts_display() if analyzer and analyzer.whereabouts else ""
    return OnFile(said, analyzer, named, owner, likes, row.job, here, away, asked_before(row))
