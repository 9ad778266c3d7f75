"""Words, numbers and names as a reader writes them."""
