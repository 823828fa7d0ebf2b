"""What a book can be: cover styles and sewing patterns, each a table of keys and pure functions."""
