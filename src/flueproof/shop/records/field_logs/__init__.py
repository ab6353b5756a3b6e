"""Field logs of owners: what an analyzer's error did to readings taken with it; kept only where the owner said so."""
