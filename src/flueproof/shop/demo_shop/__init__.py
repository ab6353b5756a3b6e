"""The demo: a living shop in an invented scenario, the same with every start but for the dates."""
