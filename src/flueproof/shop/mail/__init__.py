"""E-mails: their words, their log, and the links in them that answer."""
