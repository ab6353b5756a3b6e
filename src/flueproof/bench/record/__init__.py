"""The bench record, format 1: models, reader, JSON Schema. Import from the files; this one stays empty."""
