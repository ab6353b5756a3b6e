"""Errors of the simulator.

SimulationError
├── TruthError      a truth that no analyzer can have
└── StepError       a step that the simulated bench cannot do
"""

from __future__ import annotations


class SimulationError(ValueError):
    """Base of everything the simulator refuses."""


class TruthError(SimulationError):
    """A truth that no analyzer can have: a dilution above 1, a negative time constant, an unknown channel."""


class StepError(SimulationError):
    """A step that the simulated bench cannot do: an unknown reference, gas without a bottle, no such channel."""
