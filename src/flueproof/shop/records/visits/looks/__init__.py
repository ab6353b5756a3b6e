"""Looks at a display while the gas is on: how they arrive, what a step makes of them, who is woken by them."""
