"""Figures that the analyzer computed itself, as the record holds them, held against the formulas of chemistry."""
