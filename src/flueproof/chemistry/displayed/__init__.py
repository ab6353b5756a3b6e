"""Which formula an analyzer's own figures follow, or what fits instead."""
