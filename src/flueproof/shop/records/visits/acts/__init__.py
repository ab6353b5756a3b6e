"""What people do at a visit: bring it to the bench, record a step, hear the owner, finish."""
