"""Errors of the promise clock.

ClockError
 +-- BadTermsError   days or a meaning that no promise can be counted with
 +-- BadEventError   an event that says nothing the clock knows
"""


class ClockError(ValueError):
    """The clock cannot count; the message says what to do."""


class BadTermsError(ClockError):
    """The terms of the promise contradict themselves or do not know the service."""


class BadEventError(ClockError):
    """An event gives a reason that the clock does not know, or a moment without a time zone."""
