"""What was wrong with the analyzer as found, in the form in which it acts on a reading in the field."""
