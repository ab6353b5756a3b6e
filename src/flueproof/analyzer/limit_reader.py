"""Limit tables read from TOML (or from an order's own limits) with a gap check."""

from __future__ import annotations

from collections.abc import Sequence

from flueproof.analyzer.errors import ProfileError
from flueproof.analyzer.limit import COMBINES, LIMIT_OF, LIMIT_PHASES, PHASES, Limit
from flueproof.analyzer.toml_table import TomlTable


def read_limit(row: TomlTable, low: float, high: float) -> Limit:
    """Return one limit line; its range is the channel's when not given.

    low, high: range of the channel [unit of the channel].
    Raises: ProfileError.
    Source: the line's own `source`, which must be there.
    """
    absolute = row.optional_number("absolute", low=0.0)
    percent = row.optional_number("percent", low=0.0, high=100.0)
    if absolute is None and percent is None:
        raise row.fault("absolute", "and `percent` are both missing.", "Write at least one of the two.")
    both = absolute is not None and percent is not None
    combine = row.text("combine", default="larger" if both else "only", choices=COMBINES)
    if both == (combine == "only"):
        given = "both `absolute` and `percent`" if both else "one of `absolute` and `percent`"
        raise row.fault("combine", f"is {combine!r} with {given} given.", "`larger` or `sum` for two, `only` for one.")
    limit = Limit(
        phase=row.text("phase", default="any", choices=LIMIT_PHASES),
        from_=row.number("from", default=low),
        to=row.number("to", default=high),
        absolute=absolute,
        percent=percent,
        of=row.text("of", choices=LIMIT_OF) if percent is not None else "reference",
        combine=combine,
        source=row.text("source"),
    )
    row.close()
    if limit.from_ >= limit.to:
        raise row.fault("to", f"is {limit.to:g}, not above `from` {limit.from_:g}.", "Write the range upwards.")
    if limit.value_at(max(abs(limit.from_), abs(limit.to)), full_scale=high) <= 0.0:
        raise row.fault("absolute", "gives a limit of zero.", "Write a limit above zero.")
    return limit


def read_limits(table: TomlTable, name: str, low: float, high: float) -> tuple[Limit, ...]:
    """Return all lines under a key; together they must cover low..high in both phases.

    low, high [unit of the channel].
    Raises: ProfileError, for a gap also.
    Source: the lines' own.
    """
    limits = tuple(read_limit(row, low, high) for row in table.rows(name))
    for phase in PHASES:
        gap = first_gap(limits, phase, low, high)
        if gap is not None:
            raise ProfileError(
                table.key(name),
                f"no line covers {gap:g} {phase}; the channel runs from {low:g} to {high:g}.",
                "Add a line or widen one.",
                table.where,
            )
    return limits


def first_gap(limits: Sequence[Limit], phase: str, low: float, high: float) -> float | None:
    """Return the lowest value in low..high [unit of the channel] that no line covers in a phase, None without a gap.

    Source: common practice, no source.
    """
    reached = low
    for line in sorted((one for one in limits if one.phase in {"any", phase}), key=lambda one: one.from_):
        if line.from_ > reached:
            break
        reached = max(reached, line.to)
    return None if reached >= high and any(one.phase in {"any", phase} for one in limits) else reached
