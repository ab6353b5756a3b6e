"""One form a step kind: what a person at the bench enters, turned into a step of the bench record."""
