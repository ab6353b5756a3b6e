"""Doing an import and taking it back."""
