"""The way out, loans, money."""
