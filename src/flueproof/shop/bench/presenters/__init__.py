"""Ready text for the bench page; templates hold no rule."""
