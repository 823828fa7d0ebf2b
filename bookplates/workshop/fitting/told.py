"""What is said of a way out, the same on the screen and on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bookplates.lengths import Units
from bookplates.workshop.fitting.way import Way
from bookplates.workshop.lacking import size_in_words
from bookplates.workshop.needs import Need


def sentence(text: str) -> str:
    """A clause with a capital.

    >>> sentence("as written")
    'As written'
    """
    return text[:1].upper() + text[1:]


def called(need: Need) -> str:
    """How many of a piece, and whose.

    >>> from bookplates.geometry import Size
    >>> called(Need("spine cloth", "cloth", Size(40.0, 150.0), "head to tail", 2))
    '2 × spine cloth'
    """
    return f"{need.count} × {need.name}{f' ({need.whose})' if need.whose else ''}"


def alike(pieces: Sequence[Need], units: Units) -> Iterator[tuple[str, str, str]]:
    """Material, names and size; those of one size in one row."""
    found: dict[tuple[str, str], list[Need]] = {}
    for need in pieces:
        found.setdefault((need.material, size_in_words(need, units)), []).append(need)
    for (material, size), group in found.items():
        yield material, ", ".join(called(need) for need in group), size


def verdict(way: Way) -> str:
    """Whether it is enough."""
    if not way.trial.goes:
        return "does not fit"
    if not way.works:
        return f"fits, but {way.trial.missing} missing"
    return "fits"


def sheets_in_words(way: Way) -> str:
    """The sheets and rolls that a way takes, stock by stock.

    Where the book as written can be cut, only what is otherwise there is told; of two ways in one, where it cannot, what
    the second saves.
    """
    here = way.trial is way.before
    known = not here and way.before.goes
    now = way.before.used if known else way.over.used if way.over is not None and way.over.goes else {}
    parts = []
    for key, used in way.trial.used.items():
        if not known or now.get(key) != used:
            instead = f" instead of {now[key]}" if now.get(key, used) != used else ""
            parts.append(f"{key[0]}: {taken(key, used)}{instead}")
    return "Takes " + ("; ".join(parts) if parts else "as much as the book as written")


def taken(key: tuple[str, str, str], used: int) -> str:
    """So many sheets or rolls of a stock, given by its key in `Trial.used`.

    >>> taken(("cover paper", "sheet", "harbour pad"), 2)
    '2 sheets of harbour pad'
    """
    return f"{used} {key[1]}{'' if used == 1 else 's'} of {key[2]}"


def besides(way: Way) -> str:
    """Materials that only this way takes and of which there is no stock, in a sentence; empty where there are none."""
    new = [material for material in way.trial.unstocked if material not in way.before.unstocked]
    return f"Takes {' and '.join(new)} besides, of which no stock is written" if new else ""


def remarks(way: Way) -> Iterator[str]:
    """What is lacking, what it takes, and what may come of it, sentence by sentence."""
    yield from (sentence(lack.what) for lack in way.trial.lacks)
    if way.trial.goes:
        yield sheets_in_words(way)
    if besides(way):
        yield besides(way)
    if way.caution:
        yield f"Take care: {way.caution}"
    yield from (f"Warning: {problem}" for problem in way.warnings)
