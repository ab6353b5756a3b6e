"""Errors of the metrology room.

MetrologyError
    DecisionRuleError       a decision rule that is not known, or lacks or misuses a parameter
    ConformityInputError    a limit, error, uncertainty or guard that cannot be judged
    LineInputError          calibration points or an uncertainty that no line can be fitted to
    LineInversionError      a line too flat to be read backwards at the level asked for
"""


class MetrologyError(ValueError):
    """Anything this room refuses; the message says what was given, what is allowed and what to do."""


class DecisionRuleError(MetrologyError):
    """A decision rule that is not known, or lacks or misuses a parameter."""


class ConformityInputError(MetrologyError):
    """A limit, error, uncertainty or guard that cannot be judged."""


class LineInputError(MetrologyError):
    """Calibration points or an uncertainty that no line can be fitted to."""


class LineInversionError(MetrologyError):
    """A line too flat to be read backwards at the level asked for."""
