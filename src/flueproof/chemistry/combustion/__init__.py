"""Complete combustion: air, flue gas, excess air, and how O2, CO2 and dry and wet hang together."""
