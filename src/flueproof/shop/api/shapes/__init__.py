"""What travels through the API, one subject a file."""
