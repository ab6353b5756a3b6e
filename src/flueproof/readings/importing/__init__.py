"""Reading trace files: text, header and times."""
