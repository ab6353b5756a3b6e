"""What test gas tells about the gas path: products of gain and dilution, where air comes in, what cannot be told."""
