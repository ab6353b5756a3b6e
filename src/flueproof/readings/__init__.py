"""What the analyzer showed: typed readings and traces, and the value they settle to."""
