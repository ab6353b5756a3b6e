"""The pages of requests: the public ones, and those of the counter."""
