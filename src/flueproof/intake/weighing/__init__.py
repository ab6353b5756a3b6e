"""What each clue weighs for an owner or an analyzer, against a stranger."""
