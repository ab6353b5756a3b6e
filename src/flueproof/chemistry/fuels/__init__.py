"""What a fuel is made of, what it releases, and how a shop writes down its own."""
