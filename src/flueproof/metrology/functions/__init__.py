"""Functions of mathematics that the standard library lacks."""
