"""What is on file: parts of owners and analyzers that are added, replaced and removed, an analyzer that is sold."""
