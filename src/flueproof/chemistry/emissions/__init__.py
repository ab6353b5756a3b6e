"""What leaves the flue, per volume and per heat: units, factors from composition, EPA F factors and rates."""
