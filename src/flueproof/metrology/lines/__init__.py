"""Straight lines and low polynomials: fitted, used in both directions, and checked for being straight."""
