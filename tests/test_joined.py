"""Packs with plates spread over several pages, read from the finished PDF: pikepdf for windows, pypdfium2 for dots,
pdfplumber for words. Joined again, the pages give the plate that one large page would hold.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from itertools import combinations, pairwise, product
from typing import Any

import numpy as np
import pdfplumber
import pikepdf
import pypdfium2  # type: ignore[import-untyped]  # it ships no types
import pytest
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

from bookplates.geometry import Size
from bookplates.kinds.parts import Layout, Part
from bookplates.pages.place import make_pages
from bookplates.pages.sheets import Pack
from bookplates.pdf import write_pdf
from bookplates.pipeline import Made, make_pack
from bookplates.plates import draw_all
from bookplates.plates.drawing import Label
from bookplates.spec.read import read_spec
from outside import called, parts_in
from page_check import findings

MM = 25.4 / 72
DPI = 300
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
            case "BDC" if operands[0] == "/Part" and str(operands[1].Plate) == plate and str(operands[1].Name) == name:
                clip = window and Polygon([through(undone(matrix), *at) for at in window])
                yield Shown(number, title, matrix, clip or None)
        last = list(map(float, operands)) if str(operator) == "re" else None


# ---- from dots

Room = tuple[int, int, int, int]
"""Left, low, right, high, in dots from the origin of a plate."""
FAR = 10**6
AWAY = [(row, column) for row in (-1, 0, 1) for column in (-1, 0, 1)]
"""At most one dot off."""


@dataclass(frozen=True)
class Picture:
    """Dots of a plate on its own raster, dark or not, upright as the plate lies: where they begin, the lowest row first."""

    dots: np.ndarray
    left: int
    low: int

    def alone(self, other: Picture, looked_at: np.ndarray | None = None) -> int:
        """How many dark dots, of all or those looked at, have no dark one at most one off in the other picture of the room."""
        rows, columns = np.nonzero(self.dots if looked_at is None else self.dots & looked_at)
        there = np.pad(other.dots, 1)
        met = np.zeros(rows.shape, dtype=bool)
        for down, right in AWAY:
            met |= there[rows + 1 + down, columns + 1 + right]
        return int((~met).sum())

    def strips(self, edges: Iterable[float], half: float, axis: int) -> np.ndarray:
        """The dots at most so far from lines across the plate (axis 0) or up it (axis 1), mm."""
        first = (self.low, self.left)[axis]
        places = (first + np.arange(self.dots.shape[axis]) + 0.5) * DOT
        near = np.zeros(places.shape, dtype=bool)
        for edge in edges:
            near |= abs(places - edge) < half
        return np.broadcast_to(near[:, None] if axis == 0 else near[None, :], self.dots.shape)


def in_dots(box: Iterable[float]) -> Room:
    left, low, right, high = (round(max(-FAR, min(FAR, value / DOT))) for value in box)
    return left, low, right, high


def common(one: Room, other: Room) -> Room:
    return max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3])


def rendered(data: bytes, rooms: Sequence[tuple[Shown, Room]]) -> Iterator[np.ndarray]:
    """The dots of rooms of a plate, each on its own page.

    In a copy of the file each page's boxes begin a whole number of dots from where its matrix puts the plate's origin,
    and hold a whole number of them. So every page is rendered on the plate's own raster; nothing is sampled twice.
    """
    file = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for here, room in rooms:
            left, low, right, high = Polygon(through(here.matrix, *at) for at in corners(room)).bounds
            area = pikepdf.Array([Decimal(f"{value / MM:.6f}") for value in (left, low, right, high)])
            pdf.pages[here.page].mediabox = pdf.pages[here.page].cropbox = area
        pdf.save(file)
    document = pypdfium2.PdfDocument(file.getvalue())
    assert len({here.page for here, _ in rooms}) == len(rooms)
    for here, room in rooms:
        # a hair less than the scale wanted: sizes are whole numbers of dots but for a rounding, and are rounded up
        grey = document[here.page].render(scale=DPI / 72 - 1e-4, grayscale=True).to_numpy()
        dots = np.rot90(grey.reshape(grey.shape[:2]), -quarters(here.matrix))[::-1] < 160
        assert dots.shape == (room[3] - room[1], room[2] - room[0])
        yield dots


def corners(room: Room) -> list[tuple[float, float]]:
    left, low, right, high = (side * DOT for side in room)
    return [(left, low), (right, low), (right, high), (left, high)]


def quarters(matrix: Six) -> int:
    """How many quarter turns counter-clockwise a plate lies on its page; it is neither mirrored nor scaled."""
    turned = round(np.arctan2(matrix[1], matrix[0]) / (np.pi / 2))
    cosine, sine = round(np.cos(turned * np.pi / 2)), round(np.sin(turned * np.pi / 2))
    assert matrix[:4] == pytest.approx((cosine, sine, -sine, cosine), abs=1e-6)
    return int(turned)


def joined(data: bytes, pages: list[Shown], room: Room) -> Picture:
    """The plate put together from the pages that show it, each trimmed in the middle of its overlaps."""
    picture = Picture(np.zeros((room[3] - room[1], room[2] - room[0]), dtype=bool), *room[:2])
    cells = [(here, common(in_dots(trimmed(here, pages)), room)) for here in pages]
    cells = [(here, cell) for here, cell in cells if cell[0] < cell[2] and cell[1] < cell[3]]
    for (_, (left, low, right, high)), dots in zip(cells, rendered(data, cells), strict=True):
        picture.dots[low - room[1] : high - room[1], left - room[0] : right - room[0]] = dots
    return picture


def trimmed(here: Shown, pages: list[Shown]) -> tuple[float, float, float, float]:
    """What is left of a page's window when its overlaps are halved; all there is where it has none."""
    if here.window is None:
        return (-1e9, -1e9, 1e9, 1e9)
    left, low, right, high = here.window.bounds
    for other in pages:
        a, b, c, d = other.window.bounds
        if other is not here and abs(b - here.window.bounds[1]) < 1:  # beside it
            left = (left + c) / 2 if a < left < c else left
            right = (right + a) / 2 if a < here.window.bounds[2] < c else right
        if other is not here and abs(a - here.window.bounds[0]) < 1:  # above or below
            low = (low + d) / 2 if b < low < d else low
            high = (high + b) / 2 if b < here.window.bounds[3] < d else high
    return left, low, right, high


def near_parts(picture: Picture, parts: Iterable[Part]) -> np.ndarray:
    """The dots on the lines of the parts, and two beside them."""
    on = np.zeros_like(picture.dots)
    for part in parts:
        ends = [*part.points, part.points[0]] if part.closed else list(part.points)
        for (x0, y0), (x1, y1) in pairwise(ends):
            steps = np.linspace(0, 1, int(np.hypot(x1 - x0, y1 - y0) / DOT * 2) + 2)
            columns = np.floor((x0 + steps * (x1 - x0)) / DOT).astype(int) - picture.left
            rows = np.floor((y0 + steps * (y1 - y0)) / DOT).astype(int) - picture.low
            for down, right in product(range(-2, 3), repeat=2):
                on[rows + down, columns + right] = True
    return on


def near_seams(picture: Picture, pages: list[Shown], half: float) -> np.ndarray:
    """The dots at most so far from the seams, mm."""
    cells = [trimmed(page, pages) for page in pages]
    across, up = ({cell[axis] for cell in cells} | {cell[axis + 2] for cell in cells} for axis in (1, 0))
    return picture.strips(across, half, 0) | picture.strips(up, half, 1)


def room_round(layout: Layout, by: float) -> Room:
    """The room that the parts take, and so much more on every side, mm."""
    xs, ys = zip(*(at for part in layout.parts for at in part.points), strict=True)
    return in_dots((min(xs) - by, min(ys) - by, max(xs) + by, max(ys) + by))


def layout_of(pack: Made, plate: str, name: str) -> Layout:
    return next(a for a in pack.plan.layouts if a.plate == plate and any(part.name == name for part in a.parts))


SPREAD = [
    ("wrap outline", "front covering"),
    ("board outline", "front board"),
    ("tape guide", "spine centre"),
    ("cover punch guide", "spine centre"),
]
PAPERS = ["A4", "Letter"]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("plate", "name"), SPREAD)
def test_pages_joined_again_show_what_one_large_page_shows(paper: str, plate: str, name: str) -> None:
    small, large = made(WALL_BOOK.format(paper)), made(WALL_BOOK.format("900 x 1000 mm"))
    layout = layout_of(small, plate, name)
    pages, whole = shown(small.pdf, plate, name), shown(large.pdf, plate, name)
    assert len(pages) >= 2
    assert [page.window for page in whole] == [None]
    room = room_round(layout, 1)
    one, other = joined(small.pdf, pages, room), joined(large.pdf, whole, room)
    looked_at = near_parts(one, layout.parts) & ~near_seams(one, pages, 0.6)
    assert (one.dots & looked_at).sum() > 10_000
    assert (one.alone(other, looked_at), other.alone(one, looked_at)) == (0, 0)


@cache
def on_one_page(spec: str, plate: str, title: str) -> bytes:
    """A plate laid out to be spread over several pages, with all its words, on a page that takes it whole."""
    read = read_spec(spec.encode()).spec
    assert read is not None
    drawing = next(a for a in draw_all(made(spec).plan, read.setup) if a.plate == plate and a.title == title)
    setup = replace(read.setup, paper=Size(900, 1000))
    pages = make_pages([replace(drawing, grid=None)], setup, "Whole", "")
    assert len(pages) == 1
    return write_pdf(Pack("Whole", "", pages, b""))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("plate", "name"), SPREAD)
def test_pages_joined_again_show_every_line_and_word_of_the_plate(paper: str, plate: str, name: str) -> None:
    """Only the seams are left out, with the marks on them: 4 mm of each on either side."""
    spec = WALL_BOOK.format(paper)
    data, pages = made(spec).pdf, shown(made(spec).pdf, plate, name)
    large = on_one_page(spec, plate, pages[0].title.split(":")[0])
    room = in_dots(unary_union([page.window for page in pages]).bounds)
    one, other = joined(data, pages, room), joined(large, shown(large, plate, name), room)
    looked_at = ~near_seams(one, pages, 4.6)
    assert (one.dots & looked_at).sum() > 30_000
    assert (one.alone(other, looked_at), other.alone(one, looked_at)) == (0, 0)


def at_seams(data: bytes, pages: list[Shown]) -> Iterator[tuple[Picture, Picture]]:
    """For each seam what its two pages show of it, on the raster of the plate; its ends, where others cross it, are left out."""
    by = round(0.6 / DOT)
    for one, other in combinations(pages, 2):
        left, low, right, high = common(in_dots(trimmed(one, pages)), in_dots(trimmed(other, pages)))
        if min(right - left, high - low) or max(right - left, high - low) < 100:
            continue  # they do not touch, or only at a corner
        room = (left - by, low + by, right + by, high - by) if right == left else (left + by, low - by, right - by, high + by)
        first, second = (Picture(dots, *room[:2]) for dots in rendered(data, [(one, room), (other, room)]))
        yield first, second


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("plate", "name"), SPREAD)
def test_seams_and_their_crosses_lie_alike_on_both_pages(paper: str, plate: str, name: str) -> None:
    """So a plate joined by its marks is the plate that the matrices of its pages give."""
    data = made(WALL_BOOK.format(paper)).pdf
    pages = shown(data, plate, name)
    seams = list(at_seams(data, pages))
    assert len(seams) >= len(pages) - 1
    for one, other in seams:
        assert one.dots.sum() > 1000
        assert (one.alone(other), other.alone(one)) == (0, 0)


# ---- faults that would be seen


@pytest.mark.parametrize("by", [(3, 0), (0, 3), (0, -3)])
def test_dots_three_tenths_of_a_millimetre_off_would_be_seen(by: tuple[int, int]) -> None:
    """Three dots are 3 x 25.4 / 300 = 0.254 mm."""
    pack = made(WALL_BOOK.format("A4"))
    layout = layout_of(pack, "wrap outline", "front covering")
    one = joined(pack.pdf, shown(pack.pdf, "wrap outline", "front covering"), room_round(layout, 1))
    moved = Picture(np.roll(one.dots, by, axis=(0, 1)), one.left, one.low)
    assert one.alone(moved, near_parts(one, layout.parts)) > 1000


@pytest.mark.parametrize("by", [(0.3, 0.0), (0.0, 0.3)])
def test_a_page_whose_drawing_slipped_would_be_seen_at_its_seams(by: tuple[float, float]) -> None:
    """What the plate's own matrix places moves by 0.3 mm, the seams stay."""
    data = slipped(made(WALL_BOOK.format("A4")).pdf, "wrap outline", "front covering", by)
    pages = shown(data, "wrap outline", "front covering")
    off = [one.alone(other) for one, other in at_seams(data, pages)]
    assert max(off) > 100, off


def slipped(data: bytes, plate: str, name: str, by: tuple[float, float]) -> bytes:
    """The file with the first page of a plate placing that plate so far off, mm."""
    number, file = shown(data, plate, name)[0].page, io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        content = pikepdf.parse_content_stream(pdf.pages[number])
        at = [place for place, (_, operator) in enumerate(content) if str(operator) == "cm"][1]  # after the page's own
        operands = [float(value) for value in content[at].operands]
        moved = [*operands[:4], operands[4] + by[0], operands[5] + by[1]]
        content[at] = pikepdf.ContentStreamInstruction([Decimal(f"{value:.6f}") for value in moved], pikepdf.Operator("cm"))
        pdf.pages[number].Contents = pdf.make_stream(pikepdf.unparse_content_stream(content))
        pdf.save(file)
    return file.getvalue()


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


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_says_at_which_of_its_edges_it_is_trimmed(paper: str) -> None:
    """A tile is laid on the next one, a row on the one below it: those are left whole at that edge."""
    said = {
        "A1": "Trim this one at the right, and below once its row is joined",
        "A2": "Trim this one below once its row is joined",
        "B1": "Trim this one at the right",
        "B2": "Do not trim this one",
    }
    data = made(WALL_BOOK.format(paper)).pdf
    pages = [page for page in shown(data, "board outline", "front board") if ": tile " in page.title]
    assert [page.title.rsplit(" ", 1)[-1] for page in pages] == list(said)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page, words in zip(pages, said.values(), strict=True):
            sheet = pdf.pages[page.page]
            beside_the_map = sheet.crop((250, 0, float(sheet.width) - 56, float(sheet.height)))
            text = " ".join(beside_the_map.extract_text().split())
            found = re.findall(r"((?:Trim|Do not trim) this one.*?)(?:, along|\.)", text)
            assert found == [words]


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
