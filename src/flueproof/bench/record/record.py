"""The bench record as a whole."""

from typing import Annotated, Any, Literal, Self

from pydantic import FailFast, Field, model_validator

from flueproof.bench.record.analyzer import Analyzer
from flueproof.bench.record.consistency import refuse_contradictions, struck_ids
from flueproof.bench.record.order import Order
from flueproof.bench.record.parties import Owner, Received, Shop
from flueproof.bench.record.references import Reference
from flueproof.bench.record.steps.kinds import AnyStep
from flueproof.bench.record.values.entry import Entry, Name

FORMAT = "flueproof-bench-record/1"


class Record(Entry):
    """One stay of one analyzer on the bench, as it happened."""

    format: Literal["flueproof-bench-record/1"]
    """Name and version of the format: flueproof-bench-record/1."""
    job: Name
    """Number of the job."""
    shop: Shop
    """The service bench: name, address, method."""
    owner: Owner
    """The contractor that the analyzer belongs to: name, address."""
    order: Order
    """What was ordered: service, limits, decision_rule ..."""
    received: Received
    """How the analyzer came in: date, condition, enclosed."""
    analyzer: Analyzer
    """The analyzer: make, model, serial, profile, cells."""
    references: dict[Name, Reference]
    """What it was compared with, by an id that the steps use."""
    steps: Annotated[tuple[AnyStep, ...], FailFast(), Field(json_schema_extra={"minItems": 1})]
    """What was done, in the order in which it was done."""

    @model_validator(mode="after")
    def _without_contradictions(self) -> Self:
        refuse_contradictions(self.steps, self.references)
        return self

    def standing_steps(self) -> tuple[AnyStep, ...]:
        """Return the steps that count: all but the struck ones, in their order.

        A strike that was itself struck strikes nothing.
        Source: common practice, no source.
        """
        struck = struck_ids(self.steps)
        return tuple(step for step in self.steps if step.id not in struck)

    def to_json_dict(self) -> dict[str, Any]:
        """Return the record as it stands in its file: the keys that were given, values as shown.

        Source: common practice, no source.
        """
        return self.model_dump(mode="json", exclude_unset=True)
