"""Importing the lists a shop has."""
