"""The command line."""

from bookplates.cli.commands import app, run

__all__ = ["app", "run"]
