"""Keep the date: business calendar, the promise clock, the schedule of the bench."""
