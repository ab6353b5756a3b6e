"""The shop on the web: one Django project over the core."""
