"""Stickers: their sizes, their text, their code, as PDF and as a label printer's language."""
