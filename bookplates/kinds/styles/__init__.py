"""The cover styles there are. A new one is a file beside this, or a folder, and a line in the table."""

from __future__ import annotations

from bookplates.kinds.styles.base import Style
from bookplates.kinds.table import Table

STYLES: Table[Style] = Table(
    {
        "taped": "bookplates.kinds.styles.taped.style:Taped",
        "case": "bookplates.kinds.styles.case.style:Case",
        "wrapper": "bookplates.kinds.styles.wrapper.style:Wrapper",
        "exposed": "bookplates.kinds.styles.exposed.style:Exposed",
        "side-sewn": "bookplates.kinds.styles.side_sewn.style:SideSewn",
        "concertina": "bookplates.kinds.styles.concertina.style:Concertina",
    }
)

__all__ = ["STYLES", "Style"]
