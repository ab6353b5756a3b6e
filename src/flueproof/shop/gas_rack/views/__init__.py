"""Views of the Gas rack, one subject a file."""
