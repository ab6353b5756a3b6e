"""Reading what a shop exported: text files and workbooks as rows of text, and the dates in them."""
