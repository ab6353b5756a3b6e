"""Views of letters and of the links in them."""
