"""What confirmed jobs teach, kept apart from the shipped tables."""
