"""Carrying input distributions through a model: to first and second order, and by draws."""
