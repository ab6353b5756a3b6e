"""The frame around every page: base template, sign-in, units, the look."""
