"""What the shop has on file of owners and analyzers, as far as recognizing a box needs it."""
