"""Span factors: what a cylinder's certificate says over what the control analyzer shows, followed over time."""
