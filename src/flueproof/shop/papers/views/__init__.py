"""Views of the papers, one subject a file."""
