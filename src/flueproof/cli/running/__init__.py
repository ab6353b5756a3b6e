"""Commands that run a shop: serve, people, backup and restore."""
