"""Stations in pairs, between a kettle stitch near the head and one near the tail. Distances from the head of the leaf, mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bookplates.errors import Finding, refuse


def between_kettles(pairs: Sequence[tuple[float, float]], height: float, end_margin: float) -> tuple[float, ...]:
    """Kettle stitches `end_margin` from the ends and both stations of each pair.

    >>> between_kettles([(40, 50), (90, 100)], 140, 12)
    (12, 40, 50, 90, 100, 128)
    """
    return end_margin, *(station for pair in pairs for station in pair), height - end_margin


def pairs_of(stations: Sequence[float]) -> tuple[tuple[float, float], ...]:
    """The pairs between the first and the last station.

    >>> pairs_of((12, 40, 50, 90, 100, 128))
    ((40, 50), (90, 100))
    """
    return tuple(zip(stations[1:-1:2], stations[2:-1:2], strict=False))


def unpaired(stations: Sequence[float], called: str) -> Iterator[Finding]:
    """Refuse stations of which not all but the first and the last come in pairs (Alaska; handbook SW16)."""
    count = len(stations)
    if count % 2 or count < 4:
        fewer, more = max(4, count - 1), max(4, count + 1 if count % 2 else count)
        those = f"{fewer} or {more}" if fewer < more else str(more)
        what = f"{called} (sewing.pattern) takes an even number of stations, four or more, not {count}"
        yield refuse("sewing.stations", what, f"{those} stations: the first and the last for kettle stitches, pairs between")
