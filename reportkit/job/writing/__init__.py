"""What is written for a person: a new job, the survey's form, schema and guide, copies, decisions."""
