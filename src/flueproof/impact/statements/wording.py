"""The sentences: what became of a statement, and the one rule that stands over all of them."""

from __future__ import annotations

from flueproof.impact.statements.limits import NAMES, Limit

ONE_RULE = (
    "A corrected value may raise an alarm. It never clears an appliance: test again with a proven analyzer. "
    "Local codes and licensed practice decide."
)
TEST_AGAIN = "Test again with a proven analyzer."
NOT_CLEARED = "The corrected value would be lower; this does not clear the appliance. " + TEST_AGAIN
HEADS = {
    "now-outside": "was inside the limit, is outside",
    "unknown": "cannot be corrected",
    "now-open": "was inside the limit, cannot be told any more",
    "still-outside": "was outside the limit and stays so",
    "lower-not-cleared": "not cleared: test again",
    "same": "inside the limit as before",
    "not-concerned": "not taken in the time in question",
    "not-written": "no value was written down",
    "not-compared": "corrected; no limit was chosen to compare it with",
}
_WORDS = {
    "now-outside": "Was inside the limit as shown; corrected, it lies outside. " + TEST_AGAIN,
    "unknown": "The reading says nothing: take the place as not tested. " + TEST_AGAIN,
    "now-open": "Was inside the limit as shown; corrected, it cannot be told on which side it lies. " + TEST_AGAIN,
    "still-outside": "Was outside the limit as shown, and the correction does not change that.",
    "lower-not-cleared": NOT_CLEARED,
    "same": "Inside the limit as shown and as corrected; the reading stays one of an analyzer that was found wrong.",
    "not-concerned": "Taken outside the time between the last good date and the day the error was found.",
    "not-written": "The log has no value for this.",
    "not-compared": "No limit was chosen to compare it with.",
}


def sentence(change: str, limit: Limit) -> str:
    """Return what must be said of one statement (a name of CHANGES) against one limit.

    For a limit that must be reached from above ("at least") a better corrected value is higher, not lower.
    """
    words = _WORDS[change]
    if change == "lower-not-cleared" and limit.comparison == "at-least":
        return words.replace("would be lower", "would be higher")
    return words


def limit_in_words(limit: Limit) -> str:
    """Return the limit with its number, source and edition, for the head of a list."""
    compared = "at most" if limit.comparison == "at-most" else "at least"
    unit = {"degC": "\N{DEGREE SIGN}C"}.get(limit.unit, limit.unit)
    source = "; ".join(part.rstrip(".") for part in (limit.source, limit.edition, limit.note) if part)
    return f"{limit.name}: {NAMES[limit.quantity]} {compared} {limit.value:g} {unit}. Source: {source}."
