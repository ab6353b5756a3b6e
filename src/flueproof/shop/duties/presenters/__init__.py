"""What the pages of the duties show."""
