"""Jobs: how one moves from state to state."""
