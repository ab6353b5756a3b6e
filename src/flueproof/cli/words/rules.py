"""The decision rules as options of several commands."""

from __future__ import annotations

from typing import Final

from flueproof.cli.words.faults import Refusal

RULES: Final = ("simple", "guarded-U", "guarded-rU", "risk-2", "specific-2")


def checked_rule(rule: str | None, r: float | None) -> tuple[str, float | None] | None:
    """Return rule and r that belong together, None for the order's own rule.

    r: guard band over U [-], for guarded-rU only.
    Raises: Refusal. Source: ILAC-G8:09/2019 (a rule names its guard band); names are our own.
    """
    if r is not None and rule != "guarded-rU":
        raise Refusal("--r", "stands without --rule guarded-rU.", "Give both, or leave --r out.")
    if rule == "guarded-rU" and r is None:
        raise Refusal("--rule", "guarded-rU needs r, the guard band over U.", "Add --r, such as --r 0.5.")
    return None if rule is None else (rule, r)
