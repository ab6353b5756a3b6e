"""E-mails that come back later: the report of a mail server is read, and the letter it is about is marked."""
