"""A page as the operators of its content stream. Everything is drawn in mm under the page's one matrix."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from bookplates.geometry import Box, Matrix, Size
from bookplates.lengths import POINT
from bookplates.letters import width
from bookplates.pages.sheets import Placement, Sheet
from bookplates.pdf.apart import Apart, Stream, packed
from bookplates.pdf.lines import OPERATORS
from bookplates.pdf.operators import circle, literal, number, numbers, polyline, string, transform
from bookplates.plates.drawing import Drawing, Fill, Item, Label, Layer, Stroke, layer_of

Shown = Callable[[str, bool], Iterable[tuple[str, bytes]]]
"""Gives a text, bold or not, as runs: the name of an embedded font and the codes of its letters."""

_BEFORE_ANCHOR = {"start": 0.0, "middle": 0.5, "end": 1.0}


def points(size: Size) -> Size:
    """A size in mm, in points."""
    return Size(size.width / POINT, size.height / POINT)


class Contents:
    """The content streams of a document's pages, one after the other.

    A class is given the same plates many times over, and a drawing is most of its page: one that comes again is made
    into operators once. The others are forgotten, so that no more than a page of the document is held at a time.

    Attributes:
        layers: those that what has been drawn so far belongs to.
    """

    def __init__(self, pages: Iterable[Sheet], shown: Shown) -> None:
        placed = Counter(id(placement.drawing) for page in pages for placement in page.placements)
        self.layers: set[Layer] = set()
        self._again = {drawing for drawing, times in placed.items() if times > 1}
        self._known: dict[int, bytes] = {}
        self._shown = shown

    def of(self, sheet: Sheet, apart: Apart | None = None) -> tuple[Stream, ...]:
        """The operators of a page, in one stream; its frame in a second one where frames are apart (ISO 32000-1, 7.8.2)."""
        if apart is None:
            return (packed(self._stream(sheet.placements, sheet.correction)),)
        below = sheet.placements[:-1]
        kept = apart.kept(below)
        if kept is None:
            before, self.layers = self.layers, set()
            kept = packed(self._stream(below, sheet.correction)), frozenset(self.layers)
            self.layers |= before
            apart.keep(below, kept)
        self.layers |= kept[1]
        return kept[0], packed(self._stream(sheet.placements[-1:], sheet.correction))

    def _stream(self, placements: Iterable[Placement], correction: Size) -> bytes:
        """What is placed, under the page's matrix: that takes mm to points and undoes the printer's error, and it alone."""
        begin = f"q {transform(Matrix.scale(correction.width / POINT, correction.height / POINT))}".encode("ascii")
        return b"\n".join((begin, *(part for placement in placements for part in self._placed(placement)), b"Q"))

    def _placed(self, placement: Placement) -> tuple[bytes, bytes, bytes]:
        begin = f"q {_window(placement.clip)}{transform(placement.matrix)}".encode("ascii")
        return begin, self._drawing(placement.drawing), b"Q"

    def _drawing(self, drawing: Drawing) -> bytes:
        known = self._known.get(id(drawing))
        if known is None:
            known = "\n".join(self._drawn(drawing)).encode("ascii")
            if id(drawing) in self._again:
                self._known[id(drawing)] = known
        return known

    def _drawn(self, drawing: Drawing) -> Iterator[str]:
        """The items in order; what sets layer, line or grey is written only where it changes.

        A layer is marked content round what it holds (ISO 32000-1, 8.11.3.2). Lines and greys set in it hold after it,
        shown or hidden.
        """
        layer: Layer | None = None
        line, grey = "", 0.0
        for item in drawing.items:
            wanted = layer_of(item) if drawing.layered else None
            if wanted != layer:
                yield from self._turn(layer, wanted)
                layer = wanted
            if isinstance(item, Stroke):
                if item.line != line:
                    line = item.line
                    yield OPERATORS[line]
                yield _stroke(item, drawing.plate)
                continue
            if abs(_grey(item) - grey) > 0:
                grey = _grey(item)
                yield f"{number(grey)} g"
            yield f"{polyline(item.points, closed=True)} f" if isinstance(item, Fill) else _label(item, self._shown)
        yield from self._turn(layer, None)

    def _turn(self, before: Layer | None, after: Layer | None) -> Iterator[str]:
        """The end of one layer and the beginning of the next, where there is one."""
        if before:
            yield "EMC"
        if after:
            self.layers.add(after)
            yield f"/OC /{after} BDC"


def _window(clip: Box | None) -> str:
    """What keeps everything after it within a rectangle of the page (ISO 32000-1, 8.5.4)."""
    return f"{numbers((clip.left, clip.bottom, *clip.size))} re W n " if clip else ""


def _grey(item: Item) -> float:
    """How light an area is; words are black."""
    return item.grey if isinstance(item, Fill) else 0.0


def _stroke(stroke: Stroke, plate: str) -> str:
    """A painted path; a part says in marked content (ISO 32000-1, 14.6) which it is, and holds nothing else."""
    path = circle(stroke.points) if stroke.line == "hole" else polyline(stroke.points, stroke.closed)
    if stroke.part is None:
        return f"{path} S"
    named = f"/Plate {literal(plate)} /Name {literal(stroke.part)} /Line /{stroke.line}"
    return f"/Part << {named} >> BDC {path} S EMC"


def _label(label: Label, shown: Shown) -> str:
    """A line of text, turned about its anchor (ISO 32000-1, 9.4)."""
    before = _BEFORE_ANCHOR[label.anchor] * width(label.text, label.size, label.bold)
    runs = " ".join(f"/{font} {number(label.size)} Tf {string(codes)} Tj" for font, codes in shown(label.text, label.bold))
    return f"BT {_text_matrix(label, before)} Tm {runs} ET"


def _text_matrix(label: Label, before: float) -> str:
    if not label.angle:  # as nearly all words: the short way
        return f"1 0 0 1 {number(label.at[0] - before)} {number(label.at[1])}"
    place = Matrix.move(*label.at).after(Matrix.turn(label.angle)).after(Matrix.move(-before, 0.0))
    return transform(place).removesuffix(" cm")
