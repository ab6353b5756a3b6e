"""Past field readings corrected for what was found, with uncertainty, arrays at once."""
