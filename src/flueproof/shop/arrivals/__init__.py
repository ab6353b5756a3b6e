"""Boxes that came: whose they are, what is in them, what is missing."""
