"""Errors of the calendar.

CalendarError
 +-- UnknownPlaceError      no holidays are known for this country or region
 +-- BadCalendarError       the calendar contradicts itself
 +-- OutsideCalendarError   a date that no calendar here reaches
 +-- NaiveMomentError       a moment without a time zone
"""


class CalendarError(ValueError):
    """Something about business days or working hours cannot be answered; the message says what to do."""


class UnknownPlaceError(CalendarError):
    """The country or region is not one whose holidays are known; the message lists what is possible."""


class BadCalendarError(CalendarError):
    """The calendar's own settings contradict each other."""


class OutsideCalendarError(CalendarError):
    """The date lies before or after the years that a calendar covers, or no open day is left in them."""


class NaiveMomentError(CalendarError):
    """A moment came without its time zone, so its day is not known."""
