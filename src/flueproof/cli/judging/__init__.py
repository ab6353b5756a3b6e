"""From record files to answers and papers: one record, or thousands side by side."""
