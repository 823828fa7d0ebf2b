"""What a number of books need, piece by piece, before anybody asks what it is cut from. Lengths in mm."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from bookplates.book.record import Plan
from bookplates.geometry import Size
from bookplates.kinds.parts import Grain, Piece


@dataclass(frozen=True, slots=True)
class Need:
    """Pieces of one name and one size.

    Attributes:
        name: of the piece; "folio" for an open text folio, "leaf" for a single one, "thread" for a length of thread.
        material: as in the plan, or "thread".
        size: across the book and along the spine; of thread its thickness and its length.
        grain: which way its grain runs on the book.
        count: how many, for all books together.
        whose: numbers of the students it is for, such as "2, 5-7"; empty where it is everybody's.
    """

    name: str
    material: str
    size: Size
    grain: Grain
    count: int
    whose: str = ""


@dataclass(frozen=True, slots=True)
class Books:
    """How many books of one plan are made, and by whom: numbers of students, empty where nobody is named."""

    plan: Plan
    count: int
    students: tuple[int, ...] = ()


def needs(books: Iterable[Books]) -> tuple[Need, ...]:
    """What all books need together; pieces that differ from book to book say whose they are."""
    found: dict[tuple[str, str, int, int, Grain], tuple[Need, list[int]]] = {}
    several: dict[str, set[tuple[int, int, Grain]]] = {}
    lots = list(books)
    having: Counter[str] = Counter()
    for lot in lots:
        having.update({need.name for need in needs_of_one(lot.plan)})
        for need in needs_of_one(lot.plan):
            size = (round(need.size.width * 1000), round(need.size.height * 1000))
            key = (need.name, need.material, *size, need.grain)
            there, whose = found.get(key, (replace(need, count=0), []))
            found[key] = replace(there, count=there.count + need.count * lot.count), [*whose, *lot.students]
            several.setdefault(need.name, set()).add((*size, need.grain))
    differing = {name for name, kinds in several.items() if len(kinds) > 1 or having[name] < len(lots)}
    return tuple(replace(need, whose=numbered(whose)) if need.name in differing else need for need, whose in found.values())


def numbered(numbers: Sequence[int]) -> str:
    """Numbers in words, runs as ranges.

    >>> numbered([2, 5, 6, 7])
    '2, 5-7'
    """
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(f"{first}" if first == last else f"{first}-{last}" for first, last in runs)


def needs_of_one(plan: Plan) -> Iterator[Need]:
    """What one book needs, in the order of its pieces, the thread last."""
    for piece in plan.pieces:
        yield _text(plan, piece) if piece.name == "text sheet" else _need(piece)
    if plan.sewing.path.legs:
        yield Need("thread", "thread", Size(plan.sewing.thread, plan.sewing.thread_to_cut), "none", 1)


def _need(piece: Piece) -> Need:
    return Need(piece.name, piece.material, Size(piece.width, piece.height), piece.grain, piece.count)


def _text(plan: Plan, piece: Piece) -> Need:
    """The text paper as it is folded, or as it is sewn: not as it is bought."""
    text = plan.text_block
    leaf = Size(text.leaf_width, text.leaf_height if text.cut_height is None else text.cut_height)
    if text.gathered == "single leaves":
        return Need("leaf", piece.material, leaf, text.grain, text.leaves)
    return Need("folio", piece.material, Size(2 * leaf.width, leaf.height), text.grain, text.folios)


def spare_books(books: int, share: float) -> int:
    """How many books' materials are made ready beyond what is needed.

    >>> spare_books(12, 0.1), spare_books(10, 0.1), spare_books(12, 0)
    (2, 1, 0)
    """
    return math.ceil(round(books * share, 9))
