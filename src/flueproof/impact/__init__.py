"""What an analyzer's error did to the readings that its owner took with it: alarms it may raise, never an all-clear."""
