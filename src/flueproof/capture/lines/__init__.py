"""From bytes to lines, and from lines to what each channel showed, by the pattern that the shop wrote."""
