"""What a study found, as frozen records: the one source of results.json, its schema and every document."""
