"""Views of the House, one subject a file."""
