"""What is written for a person: a new job as text or workbook, the survey's form, schema, guide, copies."""
