"""Finding the fault: causes, what is seen under each, how likely each is, and what to ask or test next."""
