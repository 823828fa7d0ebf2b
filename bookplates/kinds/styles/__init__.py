"""The cover styles there are. A new one is a file beside this and a line in the table."""

from __future__ import annotations

from bookplates.kinds.styles.base import Style
from bookplates.kinds.styles.taped import Taped

STYLES: dict[str, type[Style]] = {"taped": Taped}

__all__ = ["STYLES", "Style"]
