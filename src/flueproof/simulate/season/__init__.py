"""Half a year of a bench with known truth: boxes that come, minutes that they take, people who fall ill."""
