"""The oxygen constant of each definition, how far a definition holds, and what stands on it."""
