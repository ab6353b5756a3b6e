"""What follows from an analyzer or a reference that was found wrong: duties, recomputed visits, kept field logs."""
