"""Who can this box be from: clues read off an arrival, ranked against what is on file with honest probabilities."""
