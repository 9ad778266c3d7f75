"""From an executed notebook to HTML and PDF."""
