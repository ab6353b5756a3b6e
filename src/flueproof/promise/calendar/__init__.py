"""Which days and hours the shop works: holidays, own closures, cut-off hour, working time."""
