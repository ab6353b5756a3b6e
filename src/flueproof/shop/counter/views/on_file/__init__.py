"""What is on file: owners with people and addresses, analyzers with cells and what is due; one subject a file."""
