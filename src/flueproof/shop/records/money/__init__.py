"""Money stays simple: price list, quotes, finished jobs for the books."""
