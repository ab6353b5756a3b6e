"""Service requests: the public page, the phone, the box slip."""
