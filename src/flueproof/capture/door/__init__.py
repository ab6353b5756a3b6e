"""The door of the agent: options, commands, and the light command line."""
