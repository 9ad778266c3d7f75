"""From the files a person wrote to a job that passed every rule, or every fault at once."""
