"""News of a visit: who is told, in this process and across several."""
