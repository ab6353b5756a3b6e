"""Bench: the visit as it happens."""
