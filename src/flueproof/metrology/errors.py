"""Errors of the metrology room.

MetrologyError
    DecisionRuleError       a decision rule that is not known, or lacks or misuses a parameter
    ConformityInputError    a limit, error, uncertainty or guard that cannot be judged
    LineInputError          calibration points or an uncertainty that no line can be fitted to
    LineInversionError      a line too flat to be read backwards at the level asked for
    BudgetError             an uncertainty contribution, degrees of freedom or correlation that cannot be combined
    EmptyBudgetError        a budget, or a set of readings, with nothing in it
    DistributionError       a half-width, step, coverage factor or level that describes no distribution
    LevelError              a level of confidence outside ]0, 1[
    ReadingsError           too few readings, or readings that are no numbers
    MonteCarloError         a model or setting that cannot be propagated by Monte Carlo
    RoundingError           a value that cannot be written with the digits asked for
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


class BudgetError(MetrologyError):
    """An uncertainty contribution, degrees of freedom or correlation that cannot be combined."""


class EmptyBudgetError(BudgetError):
    """A budget with nothing in it."""


class DistributionError(MetrologyError):
    """A half-width, step, coverage factor or level that describes no distribution."""


class LevelError(MetrologyError):
    """A level of confidence outside ]0, 1[."""


class ReadingsError(MetrologyError):
    """Too few readings, or readings that are no numbers."""


class MonteCarloError(MetrologyError):
    """A model or setting that cannot be propagated by Monte Carlo."""


class RoundingError(MetrologyError):
    """A value that cannot be written with the digits asked for."""
