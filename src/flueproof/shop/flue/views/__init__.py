"""Views: flue gas: the teaching page that computes combustion, and the shop's own fuels."""
