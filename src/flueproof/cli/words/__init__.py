"""What the commands say: messages, tables, summaries, JSON, on any terminal or pipe."""
