"""The command line: a thin door to the rooms below."""
