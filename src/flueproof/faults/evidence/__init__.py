"""What other rooms found, as observations of this one."""
