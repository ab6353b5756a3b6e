"""Template tags and filters of the frame."""
