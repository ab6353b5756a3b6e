"""The promise of a job: its clock, what must be known before it starts, the plan of the bench, what is asked of it."""
