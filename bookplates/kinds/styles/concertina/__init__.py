"""A strip of panels folded to and fro between two boards."""
