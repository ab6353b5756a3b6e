"""Forms of the Counter, one subject a file."""
