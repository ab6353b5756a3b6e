"""What decisions rest on: numbers checked at the door, Student's t in bulk, populations of any shape."""
