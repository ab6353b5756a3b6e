"""Gas: what may be used, what is left, the morning check."""
