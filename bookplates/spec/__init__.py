"""TOML -> a checked, frozen description of a book; problems with their line; the JSON Schema."""
