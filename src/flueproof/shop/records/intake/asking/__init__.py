"""What a request says before anybody saw the analyzer: drafts, codes, serials, what is on file for it."""
