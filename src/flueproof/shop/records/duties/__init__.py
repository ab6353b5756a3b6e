"""What the shop owes owners when an analyzer, or a reference of its own, was found wrong."""
