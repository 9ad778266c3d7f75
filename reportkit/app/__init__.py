"""What a person runs: the command line, a run of a job, its archive."""
