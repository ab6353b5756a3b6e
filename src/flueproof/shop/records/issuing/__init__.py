"""Issuing papers: signing, amending, printing again."""
