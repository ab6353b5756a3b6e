"""What the pages of letters and answers show."""
