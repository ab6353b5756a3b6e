"""What the Promises page shows, ready to print."""
