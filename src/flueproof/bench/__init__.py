"""One visit: the bench record, the judge, the verdict, the adjustment, the next useful test."""
