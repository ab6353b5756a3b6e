"""Forms of the frame."""
