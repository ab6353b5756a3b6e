"""The Parts page: what lies on the shelf, what comes in and goes out, what is to be ordered."""
