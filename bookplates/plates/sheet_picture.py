"""A sheet and how it is cut up, as a small picture: not to scale, to find one's way by. Lengths in mm.

Only the sheet's edges and the cuts are drawn: what they bound are the pieces and the offcuts. A cut's number stands in
a gap of its line, so that no line runs through it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice

from bookplates.geometry import Box, Point, Size
from bookplates.handout.cutting_words import base_name, letters_of
from bookplates.handout.stock_words import offcut_size, side
from bookplates.lengths import Units, both_sizes, fits
from bookplates.letters import width
from bookplates.plates.drawing import Item, Label, Stroke
from bookplates.plates.hatching import hatching
from bookplates.plates.marks import LEADING, LIST, NORMAL, SMALL, arrow, lines
from bookplates.plates.pad import ASCENT, DESCENT, box_of, overlap, touches
from bookplates.plates.there import There
from bookplates.workshop.cuts import SheetCuts
from bookplates.workshop.cutting.order import Part, Step, parts, steps
from bookplates.workshop.cutting.tree import CutSheet, Node, Offcut, Put
from bookplates.workshop.lying import grain_stands

BESIDE = 13.0
"""Room at the right of a sheet for the arrows of grain and motif, mm."""
FOOT = 4.0
"""Room below a sheet and at its left for its sides, mm."""
CLEAR = 0.45
ARROW = 13.0


class _Picture:
    """What is drawn so far: lines first, then words where they meet neither lines nor other words."""

    def __init__(self, scale: float) -> None:
        self.items: list[Item] = []
        self._scale = scale
        self._lines: list[Stroke] = []
        self._words: list[Box] = []
        self._near_lines, self._near_words = There(), There()

    def box(self, box: Box) -> Box:
        """A place on the sheet as a place in the picture."""
        left, bottom, right, top = (side * self._scale for side in box)
        return Box(left + FOOT, bottom + FOOT, right + FOOT, top + FOOT)

    def line(self, at: float) -> float:
        """A length on the sheet as one in the picture."""
        return at * self._scale

    def keep_clear(self, lines: Sequence[Stroke]) -> None:
        """Words are to stand clear of these lines."""
        for line in lines:
            self._near_lines.add(len(self._lines), box_of(line))
            self._lines.append(line)

    def free(self, box: Box, of: Stroke | None = None) -> bool:
        """Whether words may stand there; a number may stand on the line that it is `of`."""
        wide = box.grown(CLEAR)
        if any(overlap(wide, self._words[number]) for number in self._near_words.near(wide)):
            return False
        near = (self._lines[number] for number in self._near_lines.near(wide))
        return not any(line is not of and touches(line, wide) for line in near)

    def put(self, labels: Sequence[Label]) -> None:
        """Draw words."""
        for label in labels:
            self.items.append(label)
            self._words.append(box_of(label))
            self._near_words.add(len(self._words) - 1, self._words[-1])

    def words_in(self, box: Box) -> list[Box]:
        """Where words stand in a box."""
        found = dict.fromkeys(self._near_words.near(box))
        return [self._words[number].grown(CLEAR) for number in found if overlap(self._words[number], box)]


def sheet_picture(
    cuts: SheetCuts, way: CutSheet, room: Size, units: Units, *, named: bool = True, numbered: bool = True
) -> tuple[Item, ...]:
    """One sheet with its pieces, cuts, offcuts, grain and motif, as large as the room takes it.

    Args:
        cuts: the stock it is, and what its pieces are.
        way: how it is cut.
        room: for all of it; the lower left corner is the origin.
        units: which unit of the sheet's sides comes first.
        named: whether pieces carry their names; else only their letters.
        numbered: whether cuts carry their numbers.
    """
    scale = min((room.width - FOOT - BESIDE) / cuts.size.width, (room.height - FOOT) / cuts.size.height)
    picture = _Picture(scale)
    sheet = picture.box(Box(0.0, 0.0, *cuts.size))
    done, made = steps(way.tree, cuts.blade), parts(way.tree, cuts.blade)
    outline, drawn = Stroke(sheet.corners, "medium", closed=True), [_cut_line(picture, step, made[step.part]) for step in done]
    picture.keep_clear((outline, *drawn))
    gapped = [
        part for line, step in zip(drawn, done, strict=True) for part in (_numbered(picture, line, step) if numbered else (line,))
    ]
    ends: dict[tuple[int, bool], list[Part]] = {}
    for part in made:
        if isinstance(part.node, Put):
            ends.setdefault((part.node.want, part.node.turned), []).append(part)
        elif isinstance(part.node, Offcut):
            _offcut(picture, picture.box(part.box), offcut_size(part.node.size, units))
    for alike in ends.values():
        _name(picture, [picture.box(part.box) for part in alike], _called(cuts, alike[0].node, units, named=named))
    return (outline, *gapped, *picture.items, *_sides(sheet, cuts.size, units), *_arrows(sheet, cuts))


# ---- cuts


def _cut_line(picture: _Picture, step: Step, part: Part) -> Stroke:
    """Where the blade falls, from edge to edge of the part in hand."""
    box = picture.box(part.box)
    at = picture.line(step.stop)
    across = (box.left, box.bottom + at), (box.right, box.bottom + at)
    return Stroke(((box.left + at, box.bottom), (box.left + at, box.top)) if step.upright else across, "cut")


SPOTS = (0.5, 0.62, 0.38, 0.75, 0.25, 0.86, 0.14, 0.93, 0.07)
"""Where along a cut its number may stand, the best first."""


def _numbered(picture: _Picture, line: Stroke, step: Step) -> tuple[Stroke, ...]:
    """The line of a cut with a gap where its number stands; else the number stands close beside it, where there is room."""
    start, end = line.points
    places = [tuple(a + share * (b - a) for a, b in zip(start, end, strict=True)) for share in SPOTS]
    for x, y in places:
        label = _number(step, x, y)
        gap = box_of(label).grown(CLEAR)
        low, high = ((x, gap.bottom), (x, gap.top)) if step.upright else ((gap.left, y), (gap.right, y))
        if start <= low and high <= end and picture.free(box_of(label), line):
            picture.put([label])
            return replace(line, points=(start, low)), replace(line, points=(high, end))
    away = box_of(_number(step, 0.0, 0.0)).size[not step.upright] / 2 + 2 * CLEAR
    beside = (_number(step, x + way * step.upright, y + way * (not step.upright)) for way in (-away, away) for x, y in places)
    picture.put(list(islice((label for label in beside if picture.free(box_of(label))), 1)))
    return (line,)


def _number(step: Step, x: float, y: float) -> Label:
    """The number of a cut, its middle at x, y."""
    return Label(str(step.number), (x, y - 0.36 * SMALL), SMALL, "middle", bold=True)


# ---- what lies between them


def _called(cuts: SheetCuts, node: Node, units: Units, *, named: bool) -> tuple[tuple[str, ...], ...]:
    """What may stand in a piece, the fullest first: letter, name and size as it lies; letter and name; the letter."""
    assert isinstance(node, Put), "only pieces have names"
    size = both_sizes(node.size, units).partition(" (")[0]  # in the unit that comes first: the list has both
    letter = letters_of(node.want)
    name = f"{letter}  {base_name(cuts.kinds[node.want])}" if named else letter
    return (name, size), (name,), (letter,)


SIZES = (NORMAL, LIST, SMALL)
MOST_LINES = 4
ASIDE = 1.1
"""Least distance of words from the sides of their piece, where the numbers of cuts stand, mm."""


def _name(picture: _Picture, boxes: Sequence[Box], called: Sequence[Sequence[str]]) -> None:
    """Pieces that are alike get the same words: the fullest that find room in all of them, or where they do."""
    for texts in called:
        for angle in (0.0, 90.0):
            for size in SIZES:
                found = _in_all(picture, boxes, texts, size, angle)
                if found:
                    picture.put(found)
                    return
    for box in boxes:
        _settled(picture, box, called[-1], SIZES)


def _in_all(picture: _Picture, boxes: Sequence[Box], texts: Sequence[str], size: float, angle: float) -> list[Label]:
    """The words in every one of these boxes, which are equally large; nothing where one has no room for them."""
    wrapped = _wrapped(texts, size, (boxes[0].size.height if angle else boxes[0].size.width) - 2 * ASIDE)
    found: list[Label] = []
    for box in boxes:
        labels = _stacked(picture, box, wrapped, size, angle)
        if not labels:
            return []
        found += labels
    return found


def _settled(picture: _Picture, box: Box, texts: Sequence[str], sizes: Sequence[float]) -> bool:
    """Whether the texts found room in the box: upright in large or in small letters or, in a narrow box, along its height."""
    for angle in (0.0, 90.0):
        for size in sizes:
            found = _in_all(picture, [box], texts, size, angle)
            if found:
                picture.put(found)
                return True
    return False


def _wrapped(texts: Sequence[str], size: float, wide: float) -> list[str]:
    """The texts in lines; none where a word is too long for one."""
    if not fits(max(width(word, size) for text in texts for word in text.split()), wide):
        return []
    return [line for text in texts for line in lines(text, size, wide)]


def _stacked(picture: _Picture, box: Box, wrapped: Sequence[str], size: float, angle: float) -> list[Label]:
    """Lines of words in the middle of a box, or as near to it as they meet nothing; none where they do not go in."""
    (x, y), many = box.middle, len(wrapped)
    room = (box.size.width if angle else box.size.height) - LEADING * size * (many - 1) - (ASCENT + DESCENT) * size
    if room < 2 * CLEAR or not 0 < many <= MOST_LINES:
        return []
    for shift in (0.0, 0.25, -0.25, 0.45, -0.45):
        downs = ((number - (many - 1) / 2) * LEADING * size + 0.25 * size - shift * room for number in range(many))
        labels = [
            Label(text, (x + down, y) if angle else (x, y - down), size, "middle", angle)
            for down, text in zip(downs, wrapped, strict=True)
        ]
        if all(picture.free(box_of(label)) for label in labels):
            return labels
    return []


def _offcut(picture: _Picture, box: Box, sides: str) -> None:
    """What is left over: its size, where there is room for it, and light slanting lines."""
    for texts in (("offcut", sides), (sides,)):
        if _settled(picture, box, texts, (SMALL,)):
            break
    picture.items += hatching(box, picture.words_in(box))


# ---- round the sheet


def _sides(sheet: Box, size: Size, units: Units) -> Iterator[Label]:
    x, y = sheet.middle
    for text, room, at, angle in (
        (side(size.width, units), sheet.size.width, (x, sheet.bottom - 1.0 - ASCENT * SMALL), 0.0),
        (side(size.height, units), sheet.size.height, (sheet.left - 1.2, y), 90.0),
    ):
        if fits(width(text, SMALL), room + 6.0):
            yield Label(text, at, SMALL, "middle", angle)


def _arrows(sheet: Box, cuts: SheetCuts) -> Iterator[Item]:
    """At the right: along which side the grain runs, and where the motif has its top."""
    stock, x = cuts.entry.stock, sheet.right + 2.5
    top = sheet.top - 1.0
    if stock.grain != "none":
        stands = grain_stands(cuts.size, stock.grain == "long")
        long = min(ARROW, sheet.size.height - 2.0) if stands else 9.0
        start, end = ((x + 4.0, top - long), (x + 4.0, top)) if stands else ((x, top - 1.0), (x + long, top - 1.0))
        yield from arrow(start, end, both_ends=True)
        yield _below("grain", (x, top - (long if stands else 1.0)))
        top -= (long if stands else 1.0) + 6.5
    if stock.pattern != "none":
        yield from arrow((x + 4.0, top - 7.0), (x + 4.0, top))
        yield _below("motif", (x, top - 7.0))


def _below(text: str, at: Point) -> Label:
    return Label(text, (at[0], at[1] - 1.0 - ASCENT * SMALL), SMALL)


def high_enough(size: Size, wide: float, most: float) -> float:
    """How high the picture of a sheet so large is in a room so wide, `most` at most."""
    return min(most, (wide - FOOT - BESIDE) * size.height / size.width + FOOT)
