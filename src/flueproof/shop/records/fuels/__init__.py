"""Fuels of the shop's own beside those that are shipped: found, written down, changed."""
