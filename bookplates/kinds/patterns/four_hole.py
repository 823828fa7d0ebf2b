"""Four-hole sewing: the plain side-sewn book, thread round the spine at each hole and round head and tail.

Source of the numbers: Cambridge University Library, four holes Chinese and Japanese, five Korean (handbook ST7). The order
of the stitches is from memory.
"""

from __future__ import annotations

from typing import ClassVar, Literal

from bookplates.kinds.patterns.side_sewing import SideStitch


class FourHole(SideStitch):
    """Keys of [sewing] for pattern "four-hole"."""

    pattern: Literal["four-hole"] = "four-hole"

    called: ClassVar[str] = "four-hole side sewing (stab)"
