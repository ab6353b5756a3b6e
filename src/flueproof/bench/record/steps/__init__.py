"""The steps of a visit, one family a file."""
