"""What must hold before a step goes into a record: order of work, skips in writing, the owner's word."""
