"""Doors for programs: tokens, webhooks."""
