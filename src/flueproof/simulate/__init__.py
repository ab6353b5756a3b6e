"""Analyzers and benches with known truth, from fixed seeds, for demo, tests and benchmarks."""
