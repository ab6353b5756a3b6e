"""What the pages of the boxes show, ready to print."""
