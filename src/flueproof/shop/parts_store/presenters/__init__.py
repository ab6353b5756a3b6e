"""Rows of the store in words and pictures."""
