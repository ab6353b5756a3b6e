"""Flueproof: the working tool of a service bench for portable combustion (flue-gas) analyzers."""

__version__ = "0.1.0"
