"""Views of the frame: signing in and out, the person's own page, the second factor."""
