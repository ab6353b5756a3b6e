"""The shop's calendar and hours, the promise clock, the plan."""
