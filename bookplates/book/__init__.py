"""plan: every size of a book, worked out from its spec."""
