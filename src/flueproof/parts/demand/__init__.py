"""What the shop will use: how much, in which season, how surely, and when to order."""
