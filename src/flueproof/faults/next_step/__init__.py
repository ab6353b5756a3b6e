"""What to ask, test or decide next, by minutes and money saved."""
