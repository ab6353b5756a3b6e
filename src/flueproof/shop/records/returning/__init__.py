"""The way out: packing, shipping, other shops, and jobs that are not simple."""
