"""The shop's file as the ranking of boxes needs it: kept ready in memory, in step with the database."""
