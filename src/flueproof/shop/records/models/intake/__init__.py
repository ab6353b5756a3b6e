"""Requests, boxes that came, calls."""
