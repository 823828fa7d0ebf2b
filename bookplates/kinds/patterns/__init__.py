"""The sewing patterns there are. A new one is a file beside this and a line in the table."""

from __future__ import annotations

from bookplates.kinds.patterns.base import Pattern, Stitch
from bookplates.kinds.table import Table

PATTERNS: Table[Pattern] = Table(
    {
        "chain": "bookplates.kinds.patterns.chain:Chain",
        "pamphlet": "bookplates.kinds.patterns.pamphlet:Pamphlet",
        "long stitch": "bookplates.kinds.patterns.long_stitch:LongStitch",
        "link": "bookplates.kinds.patterns.link:Link",
        "french link": "bookplates.kinds.patterns.french_link:FrenchLink",
        "tapes": "bookplates.kinds.patterns.tapes:Tapes",
        "four-hole": "bookplates.kinds.patterns.four_hole:FourHole",
        "noble": "bookplates.kinds.patterns.noble:Noble",
        "hemp leaf": "bookplates.kinds.patterns.hemp_leaf:HempLeaf",
        "tortoise shell": "bookplates.kinds.patterns.tortoise_shell:TortoiseShell",
        "none": "bookplates.kinds.patterns.none:NoSewing",
    }
)

__all__ = ["PATTERNS", "Pattern", "Stitch"]
