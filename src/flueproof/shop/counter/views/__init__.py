"""Views of the Counter, one subject a file."""
