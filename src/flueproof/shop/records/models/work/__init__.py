"""Models of what happens at the bench and what leaves it."""
