"""What the live page shows, as ready text."""
