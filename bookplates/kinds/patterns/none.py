"""No sewing: a book whose leaves hang together without a thread."""

from __future__ import annotations

from typing import ClassVar, Literal

from bookplates.errors import Finding
from bookplates.kinds.block import Block
from bookplates.kinds.patterns.base import Pattern
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import ThreadPath


class NoSewing(Pattern):
    """Keys of [sewing] for pattern "none": there are no others."""

    pattern: Literal["none"] = "none"

    called: ClassVar[str] = "not sewn"
    goes_with: ClassVar[tuple[str, ...]] = ("concertina",)

    def seam(self, block: Block) -> Seam:  # noqa: ARG002  # whatever the block
        """No stations and no thread."""
        return Seam(())

    def path(self, seam: Seam, block: Block, sewn: Sewn) -> ThreadPath:  # noqa: ARG002  # same
        """No legs."""
        return ThreadPath()

    def findings(self, block: Block) -> tuple[Finding, ...]:  # noqa: ARG002  # same
        """Nothing to say."""
        return ()
