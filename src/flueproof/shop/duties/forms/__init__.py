"""Forms of the duties."""
