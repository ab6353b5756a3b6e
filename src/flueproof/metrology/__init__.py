"""How sure we are: distributions, budgets, Monte Carlo, conformity and risk, straight lines, rounding."""
