"""The small values that all parts of a bench record are made of."""
