"""The sewing drawn from its path of thread."""
