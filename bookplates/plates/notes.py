"""Where the words of a template find room: along its edges, inside it, or beside it. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from bookplates.geometry import Box, Point, around
from bookplates.kinds.block import Opening
from bookplates.kinds.boards import spine_at_right
from bookplates.kinds.parts import Grain, Part
from bookplates.plates.drawing import Drawing, Item
from bookplates.plates.marks import LIST, NORMAL, SMALL, grain_arrow, head_sign, text_block, word
from bookplates.plates.pad import Pad, box_round, moved, spots
from bookplates.plates.words import Where

COLUMNS = (34.0, 45.0, 60.0, 80.0, 110.0, 150.0, 180.0)
"""How wide a block of words beside a drawing may be."""

SIZES = (NORMAL, LIST, SMALL)
"""Sizes of letters for blocks of words, the best first."""

WIDEST_INSIDE = 90.0
APART = 1.5
"""Least distance of a block of words from whatever else stands there, mm."""

MORE_PAGES = 3
"""How often a plate is spread further for words; a page takes whatever a paragraph says."""

SHARES = (1.0, 0.75, 0.5, 0.35)
"""How much of a room's width a block of words inside it may take, the best first."""


def beside_edge(pad: Pad, items: Sequence[Item], edge: Where, box: Box, near: Point | None = None) -> None:
    """Put the items along an edge of the box: inside it where there is room, else outside, as near as may be."""
    size = box_round(items).size
    outside = (_strip(box, edge, size, -1.2 - 2.0 * step) for step in range(200))
    for strip in chain((_strip(box, edge, size, 1.2),), outside):
        if pad.settle(items, spots(strip, size, near or strip.middle)):
            return
    beside(pad, items)


def _strip(box: Box, edge: Where, size: tuple[float, float], depth: float) -> Box:
    """The strip along an edge as deep as the items, `depth` mm inside it, or outside where negative."""
    wide, high = size
    outside = depth < 0
    across = (box.left + 1.2 - wide, box.right - 1.2 + wide) if outside else (box.left + 1.2, box.right - 1.2)
    along = (box.bottom + 1.2 - high, box.top - 1.2 + high) if outside else (box.bottom + 1.2, box.top - 1.2)
    feet = {"above": box.top - depth - (0.0 if outside else high), "below": box.bottom + depth - (high if outside else 0.0)}
    lefts = {"right": box.right - depth - (0.0 if outside else wide), "left": box.left + depth - (wide if outside else 0.0)}
    if edge in feet:
        return Box(across[0], feet[edge], across[1], feet[edge] + high)
    return Box(lefts[edge], along[0], lefts[edge] + wide, along[1])


def edge_word(pad: Pad, text: str, edge: Where, box: Box, bold: bool = False) -> None:
    """Name an edge of the box: "HEAD", "spine edge"; upright edges are named along them."""
    beside_edge(pad, word(text, NORMAL, bold, pad.upright if edge in ("left", "right") else 0.0), edge, box)


def head_and_tail(pad: Pad, box: Box) -> None:
    """Name the head and the tail of what the box holds."""
    letters = word("HEAD", NORMAL, bold=True)
    beside_edge(pad, (*letters, head_sign(x=box_round(letters).right + 1.0)), "above", box)
    edge_word(pad, "TAIL", "below", box)


def spine_and_fore_edge(pad: Pad, box: Box, piece: Part, opening: Opening) -> None:
    """Name the upright edges of a front or back piece that lies with the inside of its board up."""
    right = spine_at_right("back" if piece.name.startswith("back") else "front", opening)
    edge_word(pad, "fore-edge" if right else "spine edge", "left", box)
    edge_word(pad, "spine edge" if right else "fore-edge", "right", box)


def name_strip(pad: Pad, box: Box, names: Sequence[str]) -> bool:
    """Write the first of the names that finds room along a narrow piece, so that it keeps it when it is cut out."""
    angle = pad.upright if box.size.height > box.size.width else 0.0
    tries = (word(name, size, True, angle) for name in names for size in (NORMAL, SMALL))
    return any(pad.settle(letters, spots(box.grown(-0.6), box_round(letters).size)) for letters in tries)


def show_grain(pad: Pad, grain: Grain, inside: Box) -> None:
    """Put the grain arrow inside the box where it finds room, else beside the drawing."""
    items = grain_arrow(grain, max(8.0, min(16.0, 0.3 * min(inside.size))))
    if not items:
        return
    near = inside.left + 0.2 * inside.size.width, inside.bottom + 0.2 * inside.size.height
    if not pad.settle(items, spots(inside.grown(-1.5), box_round(items).size, near)):
        beside(pad, items)


# ---- blocks of words


def notes(pad: Pad, title: str, paragraphs: Sequence[str], *inside: Box) -> None:
    """A bold title and paragraphs: inside the first of the boxes where they find room, else beside the drawing.

    A plate that has its page nearly to itself has the words beside it rather than smaller inside; one that may share a
    page has them a little smaller inside first.
    """
    sizes: tuple[float | None, ...] = (NORMAL, None, LIST, SMALL) if _fills_page(pad) else (NORMAL, LIST, None, SMALL)
    for size in sizes if inside else ():
        if size is None and _beside_large(pad, title, paragraphs):
            return
        if size is not None and any(_inside(pad, title, paragraphs, box, size) for box in inside):
            return
    _put_beside(pad, title, paragraphs)


def _fills_page(pad: Pad) -> bool:
    """Whether the drawing takes so much of its page that hardly another goes beside it."""
    (wide, high), page = pad.box.size, pad.page
    return wide * high > 0.4 * page.width * page.height


def notes_or_name(pad: Pad, title: str, paragraphs: Sequence[str], piece: Box, names: Sequence[str]) -> None:
    """As `notes`; a piece too narrow for them keeps at least its name when it is cut out."""
    if not any(_inside(pad, title, paragraphs, piece, size) for size in SIZES):
        name_strip(pad, piece, names)
        notes(pad, title, paragraphs)


def notes_in_sight(pad: Pad, title: str, paragraphs: Sequence[str], covered: Box, *inside: Box) -> None:
    """As `notes`, but where the page allows it clear of what will be covered while the template is used, or else beside it."""
    for size in SIZES:
        blocks = [text_block(paragraphs, column, size, title) for column in COLUMNS]
        seen = [found for block in blocks for found in _seen(pad, block, covered)]
        if seen:
            pad.put(*min(seen, key=lambda found: _spread(pad, found)))
            return
    _beside_or_inside(pad, title, paragraphs, *inside)


def _beside_or_inside(pad: Pad, title: str, paragraphs: Sequence[str], *inside: Box) -> None:
    """Beside the drawing where that leaves it on a page, else inside the first of the boxes with room."""
    put, fits_page = _beside(pad, title, paragraphs)
    if fits_page:
        pad.put(*put)
    elif not any(_inside(pad, title, paragraphs, box, size) for size in SIZES for box in inside):
        _put_beside(pad, title, paragraphs)


def _seen(pad: Pad, block: Sequence[Item], covered: Box) -> Iterator[tuple[Item, ...]]:
    """The block wherever it stays in sight."""
    size = box_round(block).size
    rooms = _in_sight(pad, covered)
    return filter(None, (pad.found(block, spots(room, size, (pad.core.left, room.top)), APART) for room in rooms))


def _spread(pad: Pad, items: Sequence[Item]) -> float:
    """How much room the drawing takes with these, mm2."""
    wide, high = around((pad.box, box_round(items))).size
    return round(wide * high, 3)


def _in_sight(pad: Pad, covered: Box) -> Iterator[Box]:
    """The rooms below, above, right and left of what will be covered, as far as the page reaches."""
    left, low, right, high = pad.reach
    yield Box(left, low, right, covered.bottom - 1.0)
    yield Box(left, covered.top + 1.0, right, high)
    yield Box(covered.right + 1.0, low, right, high)
    yield Box(left, low, covered.left - 1.0, high)


def _inside(pad: Pad, title: str, paragraphs: Sequence[str], box: Box, size: float) -> bool:
    """Whether the words found room inside the box in letters of that size."""
    room = box.grown(-2.0)
    widths = (min(room.size.width * share, WIDEST_INSIDE) for share in SHARES)
    columns = [column for column in widths if column > 12]
    top = room.middle[0], room.top
    blocks = (text_block(paragraphs, column, size, title) for column in columns)
    return any(pad.settle(block, spots(room, box_round(block).size, top), APART) for block in blocks)


def _beside_large(pad: Pad, title: str, paragraphs: Sequence[str]) -> bool:
    """Whether the words found room in usual letters beside a drawing that goes on one page with them."""
    if pad.grid:
        return False
    put, fits_page = _best_column(pad, title, paragraphs, NORMAL)
    if fits_page:
        pad.put(*put)
    return fits_page


def _beside(pad: Pad, title: str, paragraphs: Sequence[str]) -> tuple[tuple[Item, ...], bool]:
    """The words beside the drawing, in the largest letters that leave it on a page; and whether any do."""
    tried = [_best_column(pad, title, paragraphs, NORMAL)]
    for size in (LIST, SMALL):
        if not tried[-1][1]:
            tried.append(_best_column(pad, title, paragraphs, size))
    return tried[-1] if tried[-1][1] else tried[0]


def _best_column(pad: Pad, title: str, paragraphs: Sequence[str], size: float) -> tuple[tuple[Item, ...], bool]:
    return _best(pad, [text_block(paragraphs, column, size, title) for column in COLUMNS])


def _put_beside(pad: Pad, title: str, paragraphs: Sequence[str]) -> None:
    """Put the words beside the drawing, on a page more where they find no room on those it takes, or one by one on several."""
    for _ in range(MORE_PAGES):
        put, fits_page = _beside(pad, title, paragraphs)
        if fits_page:
            pad.put(*put)
            return
        pad.spread()
    first, *others = paragraphs
    for heading, text in ((title, first), *(("", text) for text in others)):
        beside(pad, text_block([text], COLUMNS[0], SMALL, heading))


def beside(pad: Pad, items: Sequence[Item]) -> None:
    """Put the items right of the drawing or below it, so that it stays on its pages if it can, and as small as may be."""
    put, fits_page = _best(pad, [items])
    for _ in range(MORE_PAGES):
        if not fits_page:
            pad.spread()
            put, fits_page = _best(pad, [items])
    pad.put(*put)


def _best(pad: Pad, blocks: Sequence[Sequence[Item]]) -> tuple[tuple[Item, ...], bool]:
    """The best of some blocks where it is best put outside the drawing, and whether the whole then goes on a page."""
    if pad.grid:
        return _clear_of_seams(pad, blocks, list(pad.grid.cells))
    has = pad.box
    tried: list[tuple[bool, float, tuple[Item, ...]]] = []
    for items in blocks:
        size = box_round(items)
        for x, y in ((has.right + 5, has.top), (has.left, has.bottom - 4)):
            put = moved(items, x - size.left, y - size.top)
            whole = around((has, box_round(put)))
            tried.append((not pad.fits(whole), _spread(pad, put), put))
    spoilt, _, put = min(tried, key=lambda option: option[:2])
    return put, not spoilt


def _clear_of_seams(pad: Pad, blocks: Sequence[Sequence[Item]], cells: Sequence[Box]) -> tuple[tuple[Item, ...], bool]:
    """The first block that finds room on a page, outside what the parts cover if it can, and whether one does."""
    sides = [_without(cell, pad.core.grown(APART)) for cell in cells]
    for rooms in ([room for side in sides for room in side], cells):
        for block in blocks:
            size = box_round(block).size
            for room in rooms:
                found = pad.found(block, spots(room.grown(-APART), size, (room.left, room.top)), APART)
                if found:
                    return found, True
    return (), False


def _without(cell: Box, core: Box) -> tuple[Box, ...]:
    """What of a cell lies right of, below, left of and above the core."""
    rooms = (
        cell._replace(left=max(cell.left, core.right)),
        cell._replace(top=min(cell.top, core.bottom)),
        cell._replace(right=min(cell.right, core.left)),
        cell._replace(bottom=max(cell.bottom, core.top)),
    )
    return tuple(room for room in rooms if min(room.size) > 0)


def finished(pad: Pad, plate: str, title: str) -> Drawing:
    """The plate, what could not be dimensioned said in words beside it, or in it where the page has no other room."""
    if pad.untold:
        _beside_or_inside(pad, "", pad.untold, pad.core)
    return pad.drawing(plate, title)
