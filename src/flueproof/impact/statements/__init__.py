"""Which statements about appliances change against the limits that the owner chose; never a clearance."""
