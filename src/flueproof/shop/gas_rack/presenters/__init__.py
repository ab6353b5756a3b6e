"""What the pages of the Gas rack print, ready made."""
