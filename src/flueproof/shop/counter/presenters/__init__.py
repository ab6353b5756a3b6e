"""Presenters of the Counter: ready text for its pages."""
