"""The judge: from a bench record to points with error, uncertainty, limit, decision and risk."""
