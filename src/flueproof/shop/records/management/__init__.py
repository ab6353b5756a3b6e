"""Commands of Django for the records."""
