"""Serving the shop: what has to be ready before the first page, and the server itself."""
