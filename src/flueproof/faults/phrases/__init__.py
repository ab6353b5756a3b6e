"""Free words of a complaint as phrases that the tables know, or honestly not understood."""
