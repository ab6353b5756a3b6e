"""How a better plan is found, and how good any plan can be."""
