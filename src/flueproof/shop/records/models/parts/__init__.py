"""The parts store: kinds of parts, lots on the shelf, and every move of a piece."""
