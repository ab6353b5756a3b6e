"""Whether O2 and CO2 can be of one flue gas, and of which fuel."""
