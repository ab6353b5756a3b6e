"""What is asked on the flue page, and a fuel of the shop's own."""
