"""Forms of the Promises page."""
