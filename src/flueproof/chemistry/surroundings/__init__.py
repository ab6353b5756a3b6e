"""Height above the sea and humidity: what they change in the air, and so in what an analyzer shows."""
