"""Water in air and flue gas: saturation pressure, latent heat, dew point."""
