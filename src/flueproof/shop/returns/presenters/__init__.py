"""What the pages of the way out show, ready to print."""
