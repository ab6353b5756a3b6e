"""Simulated callers: analyzers with planted faults, what their owners see of them, and how badly they tell it."""
