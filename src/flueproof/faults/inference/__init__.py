"""Which cause explains what was seen: exact over no fault, single faults and pairs."""
