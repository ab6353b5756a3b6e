"""What burns and what comes out: fuels, combustion, excess air, CO air-free, flue loss, dew point, emissions."""
