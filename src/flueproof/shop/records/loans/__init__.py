"""Loan units: out on gas, back on gas, with whom and until when."""
