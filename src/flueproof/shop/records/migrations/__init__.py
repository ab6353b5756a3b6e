"""Migrations of the shared models."""
