"""What lies on the counter of the demo: requests, boxes, letters, promises, the way back."""
