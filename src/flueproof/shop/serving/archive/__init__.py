"""Backups: one portable archive of everything the shop keeps, for either database."""
