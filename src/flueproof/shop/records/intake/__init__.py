"""Requests, boxes that came, whose they are, what is in them."""
