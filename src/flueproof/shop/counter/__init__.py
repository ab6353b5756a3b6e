"""Counter: jobs, owners, analyzers, search and imports."""
