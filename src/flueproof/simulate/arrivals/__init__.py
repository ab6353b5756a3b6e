"""Simulated arrivals: a roster of invented owners and analyzers, and boxes that come with poor clues."""
