"""Forms of the Parts page."""
