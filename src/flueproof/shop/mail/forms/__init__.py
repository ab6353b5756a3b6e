"""Forms of letters, questions and answers."""
