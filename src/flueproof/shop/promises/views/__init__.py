"""Views of the Promises page."""
