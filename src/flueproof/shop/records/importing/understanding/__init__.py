"""What the rows of a list mean: which column is what, whose row it is, and what it would do."""
