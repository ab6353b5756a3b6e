"""Live: readings coming in and traces going out."""
