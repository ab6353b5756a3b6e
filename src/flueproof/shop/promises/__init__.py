"""Promises: the calendar, the plan of the bench, what can be done by when."""
