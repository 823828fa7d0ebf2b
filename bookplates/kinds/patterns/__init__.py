"""The sewing patterns there are. A new one is a file beside this and a line in the table."""

from __future__ import annotations

from bookplates.kinds.patterns.base import Pattern
from bookplates.kinds.patterns.chain import Chain
from bookplates.kinds.patterns.pamphlet import Pamphlet

PATTERNS: dict[str, type[Pattern]] = {"chain": Chain, "pamphlet": Pamphlet}

__all__ = ["PATTERNS", "Pattern"]
