"""The next useful test: what can still change the verdict, or what the certificate still needs."""
