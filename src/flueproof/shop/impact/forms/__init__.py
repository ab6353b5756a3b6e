"""What is asked: one value, a field log with its settings and limits, the owner's word that it may be kept."""
