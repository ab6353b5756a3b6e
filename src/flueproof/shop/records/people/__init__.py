"""People: roles and rights."""
