"""What the pages of the boxes do."""
