"""Ready text for the pages of the papers."""
