"""Packs with plates spread over several pages, read from the finished PDF: pikepdf for windows, pypdfium2 for dots,
pdfplumber for words. Joined again, the pages give the plate that one large page would hold.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pdfplumber
import pikepdf
import pypdfium2  # type: ignore[import-untyped]  # it ships no types
import pytest
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

from bookplates.pipeline import Made, make_pack
from bookplates.plates import draw_all
from bookplates.plates.drawing import Label
from bookplates.spec.read import read_spec
from outside import called, parts_in
from page_check import findings

MM = 25.4 / 72
DPI = 150
DOT = 25.4 / DPI

Six = tuple[float, float, float, float, float, float]

WALL_BOOK = """\
title = "Tide pool wall book"
maker = "Allotment class"

[text_block]
leaf = "300 x 420 mm"
folios = 8

[cover]
style = "taped"

[print]
paper = "{}"
"""
LEAVES = {
    "A5 on A4": WALL_BOOK.format("A4").replace("300 x 420 mm", "148 x 210 mm"),
    "half letter on Letter": WALL_BOOK.format("Letter").replace("300 x 420 mm", "5.5 x 8.5 in"),
    "300 x 420 mm on A4": WALL_BOOK.format("A4"),
    "300 x 420 mm on Letter": WALL_BOOK.format("Letter"),
}


@cache
def made(spec: str) -> Made:
    return make_pack(spec)


def times(first: Six, then: Six) -> Six:
    """The map that does `first`, then the other (ISO 32000-1, 8.3.4, points as rows)."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = then
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u)


def through(matrix: Six, x: Any, y: Any) -> tuple[Any, Any]:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def undone(matrix: Six) -> Six:
    a, b, c, d, e, f = (
        float(value) for value in np.linalg.inv(np.array([[*matrix[:2], 0], [*matrix[2:4], 0], [*matrix[4:], 1]]))[:, :2].flat
    )
    return a, b, c, d, e, f


@dataclass(frozen=True)
class Shown:
    """A page that shows a plate: which, where the plate's points come to lie, mm, and the window, as the plate has it."""

    page: int
    title: str
    matrix: Six
    window: Polygon | None


def shown(data: bytes, plate: str, name: str) -> list[Shown]:
    """The pages on which a part is drawn, in order."""
    with pikepdf.open(io.BytesIO(data)) as pdf, pdf.open_outline() as outline:
        titles = {int(pdf.pages.index(pikepdf.Page(mark.destination[0]))): mark.title for mark in outline.root}
        return [
            found for number, page in enumerate(pdf.pages) for found in _shown(page, number, titles.get(number, ""), plate, name)
        ]


def _shown(page: pikepdf.Page, number: int, title: str, plate: str, name: str) -> Iterator[Shown]:
    matrix: Six = (MM, 0, 0, MM, 0, 0)
    window, last = None, None
    saved = []
    for operands, operator in pikepdf.parse_content_stream(page):
        match str(operator):
            case "q":
                saved.append((matrix, window))
            case "Q":
                matrix, window = saved.pop()
            case "cm":
                matrix = times(tuple(map(float, operands)), matrix)
            case "W":
                assert last is not None
                x, y, wide, high = last
                window = [through(matrix, *at) for at in ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))]
            case "BDC" if str(operands[1].Plate) == plate and str(operands[1].Name) == name:
                clip = window and Polygon([through(undone(matrix), *at) for at in window])
                yield Shown(number, title, matrix, clip or None)
        last = list(map(float, operands)) if str(operator) == "re" else None


# ---- from dots


@dataclass(frozen=True)
class Picture:
    """Dots of a plate, upright as the plate lies, from its lower left corner."""

    dots: np.ndarray
    left: float
    low: float

    def places(self) -> tuple[np.ndarray, np.ndarray]:
        rows, columns = np.indices(self.dots.shape)
        return self.left + (columns + 0.5) * DOT, self.low + (rows + 0.5) * DOT


def rendered(data: bytes, number: int) -> np.ndarray:
    """The dots of a page, dark or not, the lowest row first."""
    grey = pypdfium2.PdfDocument(data)[number].render(scale=DPI / 72, grayscale=True).to_numpy()
    return grey.reshape(grey.shape[:2])[::-1] < 160


def joined(data: bytes, plate: str, name: str, room: tuple[float, float, float, float]) -> Picture:
    """The plate put together from the pages that show it, each trimmed in the middle of its overlaps."""
    left, low, right, high = room
    picture = Picture(np.zeros((int((high - low) / DOT), int((right - left) / DOT)), dtype=bool), left, low)
    x, y = picture.places()
    pages = shown(data, plate, name)
    for here in pages:
        cell = trimmed(here, pages)
        inside = (x >= cell[0]) & (y >= cell[1]) & (x < cell[2]) & (y < cell[3])
        across, along = through(here.matrix, x[inside], y[inside])
        dots = rendered(data, here.page)
        columns, rows = (across / DOT).astype(int), (along / DOT).astype(int)
        on = (columns >= 0) & (rows >= 0) & (columns < dots.shape[1]) & (rows < dots.shape[0])
        values = np.zeros(on.shape, dtype=bool)
        values[on] = dots[rows[on], columns[on]]
        picture.dots[inside] = values
    return picture


def trimmed(here: Shown, pages: list[Shown]) -> tuple[float, float, float, float]:
    """What is left of a page's window when its overlaps are halved; all there is where it has none."""
    if here.window is None:
        return (-1e9, -1e9, 1e9, 1e9)
    left, low, right, high = here.window.bounds
    for other in pages:
        a, b, c, d = other.window.bounds
        if other is not here and abs(b - low) < 1:  # beside it
            left = (left + c) / 2 if a < left < c else left
            right = (right + a) / 2 if a < here.window.bounds[2] < c else right
        if other is not here and abs(a - here.window.bounds[0]) < 1:  # above or below
            low = (low + d) / 2 if b < low < d else low
            high = (high + b) / 2 if b < here.window.bounds[3] < d else high
    return left, low, right, high


def spread_by(dots: np.ndarray, by: int) -> np.ndarray:
    """Dots and everything at most so many dots from them."""
    wide = np.zeros_like(dots)
    rows, columns = dots.shape
    for down in range(-by, by + 1):
        for right in range(-by, by + 1):
            there = dots[max(0, down) : rows + min(0, down), max(0, right) : columns + min(0, right)]
            wide[max(0, -down) : rows + min(0, -down), max(0, -right) : columns + min(0, -right)] |= there
    return wide


def near_parts(picture: Picture, outlines: list[tuple[tuple[tuple[float, float], ...], bool]]) -> np.ndarray:
    """The dots on the lines of the parts, and two beside them."""
    on = np.zeros_like(picture.dots)
    for points, closed in outlines:
        ends = [*points, points[0]] if closed else list(points)
        for (x0, y0), (x1, y1) in pairwise(ends):
            steps = np.linspace(0, 1, int(np.hypot(x1 - x0, y1 - y0) / DOT * 2) + 2)
            columns = ((x0 + steps * (x1 - x0) - picture.left) / DOT).astype(int)
            rows = ((y0 + steps * (y1 - y0) - picture.low) / DOT).astype(int)
            on[rows, columns] = True
    return spread_by(on, 2)


def seam_lines(picture: Picture, pages: list[Shown]) -> np.ndarray:
    """The dots of dashed lines and crosses along the seams, and a little beside them."""
    x, y = picture.places()
    on = np.zeros_like(picture.dots)
    cells = [trimmed(page, pages) for page in pages]
    for edge in {round(cell[axis], 3) for cell in cells for axis in (0, 2)}:
        on |= abs(x - edge) < 0.6
    for edge in {round(cell[axis], 3) for cell in cells for axis in (1, 3)}:
        on |= abs(y - edge) < 0.6
    return on


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(
    ("plate", "name"),
    [
        ("wrap outline", "front covering"),
        ("board outline", "front board"),
        ("tape guide", "spine centre"),
        ("cover punch guide", "spine centre"),
    ],
)
def test_pages_joined_again_show_what_one_large_page_shows(paper: str, plate: str, name: str) -> None:
    small, large = made(WALL_BOOK.format(paper)), made(WALL_BOOK.format("900 x 1000 mm"))
    layout = next(a for a in small.plan.layouts if a.plate == plate and any(part.name == name for part in a.parts))
    outlines = [(part.points, part.closed) for part in layout.parts]
    xs, ys = zip(*(at for points, _ in outlines for at in points), strict=True)
    room = min(xs) - 5, min(ys) - 5, max(xs) + 5, max(ys) + 5
    pages = shown(small.pdf, plate, name)
    assert len(pages) >= 2
    assert [page.window for page in shown(large.pdf, plate, name)] == [None]
    one, other = joined(small.pdf, plate, name, room), joined(large.pdf, plate, name, room)
    looked_at = near_parts(one, outlines) & ~seam_lines(one, pages)
    assert (one.dots & looked_at).sum() > 3000
    for here, there in ((one, other), (other, one)):
        alone = here.dots & looked_at & ~spread_by(there.dots, 1)
        assert alone.sum() == 0, np.argwhere(alone)[:5]


def test_dots_a_millimetre_off_would_be_seen() -> None:
    pack = made(WALL_BOOK.format("A4"))
    layout = next(a for a in pack.plan.layouts if a.plate == "wrap outline" and a.title == "front")
    outlines = [(part.points, part.closed) for part in layout.parts]
    one = joined(pack.pdf, "wrap outline", "front covering", (-5, -5, 328, 483))
    moved = Picture(np.roll(one.dots, 6, axis=1), one.left, one.low)
    looked_at = near_parts(one, outlines)
    assert (one.dots & looked_at & ~spread_by(moved.dots, 1)).sum() > 1000


# ---- windows, sizes and words


@pytest.mark.parametrize("reading", [100, 99])
def test_the_windows_in_the_file_cover_the_plate_and_overlap_on_paper_as_asked(reading: int) -> None:
    spec = f'{WALL_BOOK.format("A4")}overlap = "14 mm"\nbar_across = "{reading} mm"\n'
    pack = made(spec)
    pages = shown(pack.pdf, "wrap outline", "front covering")
    assert [page.title.rsplit(" ", 1)[-1] for page in pages] == ["A1", "A2", "B1", "B2"]
    # A leaf of 300 x 420 mm, 300 + 3.175 - 6.35 + 25.4 = 322.225 wide and 420 + 6.35 + 50.8 = 477.15 high
    (covering, *_) = called(parts_in(pack.pdf), "wrap outline", "front covering")
    xs, ys = zip(*covering.points, strict=True)
    assert max(ys) - min(ys) == pytest.approx(477.15, abs=0.01)
    assert (max(xs) - min(xs)) * reading / 100 == pytest.approx(322.225, abs=0.01)
    first = pages[0]
    plate = Polygon([through(undone(first.matrix), *at) for at in covering.points])
    windows = [page.window for page in pages]
    assert unary_union(windows).buffer(1e-6).covers(plate)
    beside, below = windows[0].intersection(windows[1]), windows[0].intersection(windows[2])
    assert beside.bounds[2] - beside.bounds[0] == pytest.approx(14, abs=1e-4)
    assert below.bounds[3] - below.bounds[1] == pytest.approx(14, abs=1e-4)
    stretch = 100 / reading
    assert first.matrix[0] == pytest.approx(stretch, abs=1e-6)  # as printed: 14 mm times that before the printer's error


@pytest.mark.parametrize("name", LEAVES)
def test_every_part_measures_the_same_on_each_of_its_pages(name: str) -> None:
    pack = made(LEAVES[name])
    parts = [part for part in parts_in(pack.pdf) if not part.name.startswith(("bar ", "inch bar", "diagonal"))]
    by_key: dict[tuple[str, str, str], list] = {}
    for part in parts:
        by_key.setdefault((part.plate, part.name, part.line), []).append(part)
    assert any(len(same) > 1 for same in by_key.values())
    for same in by_key.values():
        wide, high = same[0].size
        assert all(part.size == pytest.approx((wide, high), abs=1e-3) for part in same)


@pytest.mark.parametrize("name", LEAVES)
def test_nothing_on_the_pages_troubles_a_reader(name: str) -> None:
    data = made(LEAVES[name]).pdf
    with pikepdf.open(io.BytesIO(data)) as pdf, pdf.open_outline() as outline:
        tiles = [int(pdf.pages.index(pikepdf.Page(mark.destination[0]))) for mark in outline.root if ": tile " in mark.title]
        assert len(tiles) >= 4
        kept = pikepdf.new()
        kept.pages.extend(pdf.pages[number] for number in tiles)
        file = io.BytesIO()
        kept.save(file)
    assert findings(file) == []


@pytest.mark.parametrize("name", LEAVES)
def test_every_word_of_a_spread_plate_stands_whole_on_a_page(name: str) -> None:
    pack, spec = made(LEAVES[name]), read_spec(LEAVES[name].encode()).spec
    assert spec is not None
    drawings = [drawing for drawing in draw_all(pack.plan, spec.setup) if drawing.grid]
    assert len(drawings) >= 3
    with pdfplumber.open(io.BytesIO(pack.pdf)) as pdf:
        for drawing in drawings:
            wanted = {item.text for item in drawing.items if isinstance(item, Label)}
            part = next(iter(drawing.parts())).part or ""
            pages = [page for page in shown(pack.pdf, drawing.plate, part) if page.title.startswith(drawing.title)]
            assert len(pages) >= 2
            for page in pages:
                wanted -= set(whole_words(pdf.pages[page.page], page, wanted))
            assert not wanted, drawing.title


def whole_words(page: pdfplumber.page.Page, here: Shown, wanted: set[str]) -> Iterator[str]:
    """Those of some lines of text of which every letter lies within the page's window."""
    text = "".join(letter["text"] for letter in page.chars)  # in the order of the content, each line in one piece
    assert here.window is not None
    for line in wanted:
        at = text.find(line)
        while at >= 0:
            letters = page.chars[at : at + len(line)]
            corners = [
                (x * MM, (float(page.height) - y) * MM)
                for c in letters
                for x in (c["x0"], c["x1"])
                for y in (c["top"], c["bottom"])
            ]
            placed = Polygon(box(*here.window.bounds).exterior.coords).buffer(
                0.6
            )  # pdfplumber's boxes are higher than the letters
            if all(placed.covers(Point(through(undone(here.matrix), *corner))) for corner in corners):
                yield line
                break
            at = text.find(line, at + 1)
