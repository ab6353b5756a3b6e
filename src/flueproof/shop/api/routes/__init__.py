"""The operations of the API, one subject a file."""
