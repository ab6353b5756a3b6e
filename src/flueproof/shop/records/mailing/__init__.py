"""E-mails to owners: their words, the outbox, links that answer, questions."""
