"""How changes are kept: history, versions, append-only tables, numbers."""
