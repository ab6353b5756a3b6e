"""The parts store as far as it can be computed: shelf life, what goes out first, what fits, when to order."""
