"""What an analyzer is: profiles, channels, limits, cells, and the physical model of its gas path."""
