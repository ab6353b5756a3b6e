"""Views of the bench, one subject a file."""
