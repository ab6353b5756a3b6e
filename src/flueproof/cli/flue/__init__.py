"""`flueproof flue`: what follows from a field reading of a flue gas."""
