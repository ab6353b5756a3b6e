"""The work list on paper: who does what in which order on a day."""
