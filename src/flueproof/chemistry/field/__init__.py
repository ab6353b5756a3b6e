"""A field reading as a whole: every figure that an analyzer computes from it, with uncertainty and basis."""
