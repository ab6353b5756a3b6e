"""The plan of the bench: what it is made from, and how it is kept."""
