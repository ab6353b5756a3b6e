"""Readings taken one after the other."""
