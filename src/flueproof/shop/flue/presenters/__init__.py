"""Figures, curves and fuels made ready for the page."""
