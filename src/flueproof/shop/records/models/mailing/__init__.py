"""Letters, their templates, links that answer."""
