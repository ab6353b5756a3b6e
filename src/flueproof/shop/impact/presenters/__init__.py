"""What the pages print: channels as found, corrected values, a log worked through."""
