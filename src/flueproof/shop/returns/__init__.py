"""The way out: pack-out, shipping, other shops, loan units, quotes and prices."""
