"""What the owner ordered: service, limits, decision rule, due date."""

from typing import Annotated, Any, Literal, Self

from pydantic import Discriminator, Field, Tag, model_validator

from flueproof.bench.record.values.entry import Count, Entry, Flag, Name, Positive, fault
from flueproof.bench.record.values.quantities import Unit

Phase = Literal["as-found", "as-left"]
Service = Literal["verify", "verify-adjust", "repair", "call-first"]
DecisionRuleName = Literal["simple", "guarded-U", "guarded-rU", "risk-2", "specific-2"]


class OwnerLimit(Entry):
    """The owner's own limit for one channel: an amount, a percentage, or the larger or the sum of both."""

    unit: Unit | None = None
    """Unit of the absolute limit; needed with it."""
    absolute: Positive | None = None
    """Largest permitted error, in the unit, above 0."""
    percent: Positive | None = None
    """Largest permitted error, in %, above 0."""
    of: Literal["reference", "reading", "full-scale"] | None = None
    """What the percentage is of: reference, reading or full-scale."""
    combine: Literal["larger", "sum"] | None = None
    """How amount and percentage go together where both stand: larger (as if left out) or sum."""

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if self.absolute is None and self.percent is None:
            raise fault("the limit has neither absolute nor percent.", "Give one of them, or both.")
        if self.absolute is not None and self.unit is None:
            raise fault("an absolute limit stands without its unit.", "Add unit, like ppm.", ("unit",))
        if self.percent is not None and self.of is None:
            raise fault("a limit in % does not say of what.", "Add of: reference, reading or full-scale.", ("of",))
        return self


class Due(Entry):
    """Whether the owner wants a due date on the papers, and how it is counted."""

    wanted: Flag
    """Whether the owner agreed to a due date on the papers: true or false."""
    months: Count = 12
    """Months from this visit to the next, a whole number from 1."""
    rule: Literal["day", "end-of-month"] = "day"
    """Due on the same day of the month (day) or on the month's last (end-of-month)."""


def _which_limits(given: Any) -> str:
    return "profile" if isinstance(given, str) else "owner"


class Order(Entry):
    """The order of one job."""

    service: Service
    """What was ordered: verify, verify-adjust, repair or call-first."""
    as_found: Flag = True
    """Whether the state as found is to be measured and reported: true or false."""
    limits: Annotated[
        Annotated[Literal["profile"], Tag("profile")]
        | Annotated[dict[Name, OwnerLimit], Field(min_length=1), Tag("owner")],
        Discriminator(_which_limits),
    ] = "profile"
    """The word profile, or an object of the owner's own limits by channel."""
    decision_rule: DecisionRuleName = "risk-2"
    """How uncertainty enters the decision: simple, guarded-U, guarded-rU, risk-2 or specific-2."""
    r: Annotated[float, Field(strict=True, allow_inf_nan=False, gt=0, le=1)] | None = None
    """The part of U that guards under guarded-rU, above 0 and at most 1."""
    due: Due = Due(wanted=False)
    """Whether and how a due date is wanted."""
    accredited: Flag = False
    """Whether the work is ordered under the shop's accreditation: true or false."""

    @model_validator(mode="after")
    def _r_belongs_to_its_rule(self) -> Self:
        if self.decision_rule == "guarded-rU" and self.r is None:
            raise fault("decision_rule guarded-rU stands without r.", "Add r, above 0 and at most 1, like 0.5.", ("r",))
        if self.decision_rule != "guarded-rU" and self.r is not None:
            raise fault(
                f"r has no meaning under decision_rule {self.decision_rule}.",
                "Remove r, or order guarded-rU.",
                ("r",),
            )
        return self
