"""Ready text for templates: amounts in a person's units, days and moments, the job's tag, the pages."""
