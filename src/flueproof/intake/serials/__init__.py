"""Serials that were partly read: how likely a reading is for one on file, and for any other of the series."""
