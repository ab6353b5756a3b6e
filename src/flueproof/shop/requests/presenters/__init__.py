"""What the pages show of a request."""
