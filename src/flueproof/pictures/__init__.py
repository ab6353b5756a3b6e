"""The one picture grammar as SVG, for pages and papers alike."""
