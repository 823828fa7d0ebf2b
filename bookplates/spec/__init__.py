"""TOML -> a checked, frozen description of a book; problems with their line; the JSON Schema."""

from __future__ import annotations

MOST_BYTES = 64 * 1024
"""No spec is longer. It stands here so that whoever opens the file need not load what checks it."""
