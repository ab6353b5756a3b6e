"""Views of the live page, one subject a file."""
