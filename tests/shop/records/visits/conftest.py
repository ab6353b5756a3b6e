"""A visit at an open bench."""

from shop.visit_fixtures import add, began, gas, open_shop, page_id, rack, ready, rest, visit

__all__ = ["add", "began", "gas", "open_shop", "page_id", "rack", "ready", "rest", "visit"]
