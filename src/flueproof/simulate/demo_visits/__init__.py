"""The visits of the demo: the invented shop, what its bench does, and what is true on each visit."""
