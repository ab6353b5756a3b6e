"""What leaves through the flue: rival methods, each named apart, and the condensing balance."""
