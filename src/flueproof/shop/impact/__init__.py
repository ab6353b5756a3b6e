"""Impact: what an error found in an analyzer did to its owner's readings."""
