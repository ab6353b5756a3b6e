"""The owner's field log: read from CSV or typed rows, given back as CSV or JSON."""
