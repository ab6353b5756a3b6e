"""What the Parts page answers, one subject a file."""
