"""Duties: what the shop owes owners when an analyzer or a reference was found wrong."""
