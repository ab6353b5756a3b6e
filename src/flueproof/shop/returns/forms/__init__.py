"""Forms of the way out, one subject a file."""
