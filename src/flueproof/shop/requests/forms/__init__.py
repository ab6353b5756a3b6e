"""What is typed: step by step by the owner, on one page by the counter."""
