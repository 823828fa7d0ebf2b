"""Whole packs of varied books, seen by readers that share no code with the program.

pdfminer (beneath pdfplumber) for places and sizes, pikepdf for the document, pypdfium2 for words and dots; page_check, with
pdfplumber, for what would trouble a reader.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pypdfium2  # type: ignore[import-untyped]  # it ships no types
import pytest
from shapely.geometry import Polygon

from bookplates.pipeline import Made, make_pack
from books import ALLOTMENT, BOOKS, DESK_PAPERS, ORCHARD, PACKS, spec_of
from outside import Drawn, called, parts_in
from page_check import findings

Packs = Callable[[str, str], Made]

ONE_EACH = (*zip(BOOKS, DESK_PAPERS * 3, strict=True), ("orchard", "A4"), ("atlas", "A3"))
"""Every book once, the papers taking turns: for what takes long to look at."""

PAPERS_MM = {"Letter": (215.9, 279.4), "A4": (210.0, 297.0), "A3": (297.0, 420.0)}
"""ANSI/ASME Y14.1 (8 1/2 x 11 in) and ISO 216."""

KNIFE_PLATES = {"board outline": "front board", "wrap outline": "back covering", "lining outline": "front lining"}
AWL_PLATES = {"punch guide": "punch guide", "cover punch guide": "cover punch guide"}
"""Plates and the part that each is for: small gauges may lie on any page."""


@pytest.fixture(scope="session")
def drawn(pack: Packs) -> Callable[[str, str], tuple[Drawn, ...]]:
    return cache(lambda book, paper: parts_in(pack(book, paper).pdf))


@pytest.fixture(scope="session")
def texts(pack: Packs) -> Callable[[str, str], tuple[str, ...]]:
    """What stands on each page, in the order in which it is drawn, line breaks as spaces."""

    @cache
    def read(book: str, paper: str) -> tuple[str, ...]:
        document = pypdfium2.PdfDocument(pack(book, paper).pdf)
        return tuple(" ".join(page.get_textpage().get_text_range().split()) for page in document)

    return read


@pytest.mark.parametrize(("book", "paper"), PACKS)
def test_every_planned_part_is_drawn_and_true_to_size(pack: Packs, drawn: Any, book: str, paper: str) -> None:
    made = pack(book, paper)
    found = [part for part in drawn(book, paper) if not part.name.startswith("bar ")]
    planned = [(layout.plate, part) for layout in made.plan.layouts for part in layout.parts if not part.name.startswith("bar ")]
    keys = Counter((part.plate, part.name, part.line) for part in found)
    assert keys == Counter((plate, part.name, part.line) for plate, part in planned)
    for plate, part in planned:
        assert any(other.measures(*part.box.size) for other in called(tuple(found), plate, part.name, part.line)), part


@pytest.mark.parametrize(("book", "paper"), PACKS)
def test_what_is_cut_out_has_the_planned_area_and_is_not_mirrored(pack: Packs, drawn: Any, book: str, paper: str) -> None:
    for layout in pack(book, paper).plan.layouts:
        for part in (part for part in layout.parts if part.line == "cut" and part.closed):
            shapes = [Polygon(other.points) for other in called(drawn(book, paper), layout.plate, part.name)]
            assert any(abs(shape.area - Polygon(part.points).area) < 0.05 for shape in shapes), part.name
            assert all(shape.exterior.is_ccw == Polygon(part.points).exterior.is_ccw for shape in shapes)


@pytest.mark.parametrize(("book", "paper"), PACKS)
def test_both_bars_are_100_mm_on_every_page(pack: Packs, drawn: Any, book: str, paper: str) -> None:
    for page in range(1, pack(book, paper).pages + 1):
        bars = {part.name: part for part in drawn(book, paper) if part.page == page and part.name.startswith("bar ")}
        assert bars["bar across"].size == pytest.approx((100, 0), abs=0.001)
        assert bars["bar along"].size == pytest.approx((0, 100), abs=0.001)
        assert {bar.line for bar in bars.values()} == {"bar"}


@pytest.mark.parametrize(("book", "paper"), PACKS)
def test_nothing_true_to_scale_leaves_what_the_printer_reaches(drawn: Any, book: str, paper: str) -> None:
    across, along = PAPERS_MM[paper]
    for part in drawn(book, paper):
        (width, height), margin = part.size, 6.35 - 0.001  # the usual margin, 1/4 in
        assert margin <= part.left <= across - margin - width, part
        assert margin <= part.low <= along - margin - height, part


# The check book by hand, mm
CHECKED = [
    ("board outline", "front board", (104.775, 146.05)),  # 107.95 + 3.175 - 6.35 by 139.7 + 2 x 3.175
    ("wrap outline", "front covering", (130.175, 196.85)),  # 104.775 + 25.4 by 146.05 + 2 x 25.4
    ("wrap outline", "back covering", (130.175, 196.85)),
    ("lining outline", "front lining", (95.25, 127.0)),  # 104.775 - 9.525 by 146.05 - 2 x 9.525
    ("cover punch guide", "cover punch guide", (15.7, 146.05)),  # 1 narrower than the boards are apart
    ("punch guide", "punch guide", (215.9, 139.7)),  # a whole dummy folio: 2 x 107.95
    ("tape guide", "tape gauge", (42.45, 60.0)),  # (101.6 - 16.7) / 2
    ("spacer", "spacer", (16.7, 100.0)),  # 4 + 2 x 6.35
]


@pytest.mark.parametrize("paper", DESK_PAPERS)
@pytest.mark.parametrize(("plate", "name", "size"), CHECKED)
def test_the_check_book_measures_what_a_binder_works_out(
    drawn: Any, paper: str, plate: str, name: str, size: tuple[float, float]
) -> None:
    assert [part.measures(*size) for part in called(drawn("orchard", paper), plate, name)] == [True]


@pytest.mark.parametrize("paper", DESK_PAPERS)
def test_the_check_books_stations_are_half_an_inch_apart(drawn: Any, paper: str) -> None:
    names = [f"station {number}" for number in range(1, 11)]  # (139.7 - 2 x 12.7) / 12.7 + 1
    for plate in AWL_PLATES:
        holes = [next(called(drawn("orchard", paper), plate, name, "hole")) for name in names]
        assert all(hole.measures(1, 1) for hole in holes)
        steps = [np.hypot(b.left - a.left, b.low - a.low) for a, b in pairwise(holes)]
        assert steps == pytest.approx([12.7] * 9, abs=0.001)


@pytest.mark.parametrize(("book", "front_left"), [("orchard", True), ("allotment", False)])
def test_a_covering_is_flush_with_its_board_at_the_spine_and_turned_in_at_the_fore_edge(
    drawn: Any, book: str, front_left: bool
) -> None:
    # Seen from the wrong side, with the spine at the left of the book's front, the front board lies left of the spine.
    parts = drawn(book, "A4")
    for side in ("front", "back"):
        paper = next(called(parts, "wrap outline", f"{side} covering"))
        board = next(called(parts, "wrap outline", f"{side} board place", "place"))
        beyond_left, beyond_right = board.left - paper.left, paper.left + paper.size[0] - board.left - board.size[0]
        spine_right = (side == "front") == front_left
        assert (beyond_left, beyond_right) == pytest.approx((25.4, 0) if spine_right else (0, 25.4), abs=0.001)


def test_no_two_sides_of_the_unequal_book_are_taken_for_each_other(drawn: Any) -> None:
    # Turn-ins of 18, 20 and 22 mm at head, tail and fore-edge, squares of 3 and 4 mm; the page has the head up.
    parts = drawn("lighthouse", "A4")
    paper = next(called(parts, "wrap outline", "front covering"))
    board = next(called(parts, "wrap outline", "front board place", "place"))
    assert board.low - paper.low == pytest.approx(20, abs=0.001)
    assert paper.low + paper.size[1] - board.low - board.size[1] == pytest.approx(18, abs=0.001)
    assert board.left - paper.left == pytest.approx(22, abs=0.001)
    assert board.size[1] == pytest.approx(157, abs=0.001)  # 150 + 3 + 4


@pytest.mark.parametrize(("book", "paper"), ONE_EACH)
def test_the_document_is_sound_and_prints_at_true_size(pack: Packs, book: str, paper: str) -> None:
    made = pack(book, paper)
    with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert pdf.pdf_version == "1.7"
        preferences = pdf.Root.ViewerPreferences
        assert str(preferences.PrintScaling) == "/None"
        assert [str(name) for name in preferences.Enforce] == ["/PrintScaling"]
        assert preferences.PickTrayByPDFSize
        assert str(pdf.Root.Lang) == "en-GB"
        assert str(pdf.docinfo.Title) == made.plan.title
        assert [page.label for page in pdf.pages] == [str(number) for number in range(1, made.pages + 1)]
        assert list(pdf.attachments) == ["spec.toml"]
        assert pdf.attachments["spec.toml"].get_file().read_bytes() == spec_of(book, paper)
        for page in pdf.pages:
            box = [float(value) for value in page.mediabox]
            assert box == pytest.approx([0, 0, *(side * 72 / 25.4 for side in PAPERS_MM[paper])], abs=0.001)


@pytest.mark.parametrize(("book", "paper"), ONE_EACH)
def test_every_font_of_every_page_is_embedded(pack: Packs, book: str, paper: str) -> None:
    with pikepdf.open(io.BytesIO(pack(book, paper).pdf)) as pdf:
        for page in pdf.pages:
            fonts = page.Resources.Font
            assert len(fonts.keys()) > 0
            for name in fonts.keys():  # noqa: SIM118  # it is no dict
                assert "/FontFile2" in fonts[name].FontDescriptor, name


@pytest.mark.parametrize(("book", "paper"), ONE_EACH)
def test_every_page_says_whose_it_is_and_how_to_print_it(pack: Packs, texts: Any, book: str, paper: str) -> None:
    pages = texts(book, paper)
    assert len(pages) == pack(book, paper).pages
    for number, text in enumerate(pages, 1):
        assert pack(book, paper).plan.title in text
        assert "print at 100 %" in text
        assert f"page {number} of {len(pages)}" in text
        assert "mm (in)" in text or "in (mm)" in text


@pytest.mark.parametrize(("book", "paper"), ONE_EACH)
def test_words_stand_where_they_are_needed(drawn: Any, texts: Any, book: str, paper: str) -> None:
    pages = texts(book, paper)

    def said_beside(plate: str, name: str, words: str) -> bool:
        numbers = {part.page for part in drawn(book, paper) if (part.plate, part.name) == (plate, name)}
        return bool(numbers) and all(words in pages[number - 1] for number in numbers)

    for plate, name in (KNIFE_PLATES | AWL_PLATES | {"tape guide": "head edge"}).items():
        assert said_beside(plate, name, "HEAD"), plate
    for plate, name in KNIFE_PLATES.items():
        assert said_beside(plate, name, "Knife:"), plate
        assert said_beside(plate, name, "trained"), plate
    for plate, name in AWL_PLATES.items():
        assert said_beside(plate, name, "Awl:"), plate
    whole = "".join(pages)
    assert whole.lower().count("wrong side of the paper up") >= 2  # a covering for each board
    assert "Adhesive:" in whole
    assert "Needle:" in whole


def test_sizes_are_given_in_both_units_the_makers_first(texts: Any) -> None:
    # 107.95 mm is 4 1/4 in; an A4 quarto leaf is 105 x 148.5 mm, and 105 / 25.4 = 4.134 in, 4 1/8 in and 0.2 mm.
    assert "4 1/4 × 5 1/2 in (107.95 × 139.7 mm)" in "".join(texts("orchard", "Letter"))
    assert "105 × 148.5 mm (" in "".join(texts("tide pool", "A4"))
    assert "thread, computed" in "".join(texts("orchard", "Letter"))
    assert "folded sheets (folios)" in "".join(texts("orchard", "Letter"))


@pytest.mark.parametrize(("book", "paper"), ONE_EACH[:6])
def test_no_reader_would_stumble_on_a_page(pack: Packs, book: str, paper: str) -> None:
    assert findings(io.BytesIO(pack(book, paper).pdf)) == []


DOTS = 600 / 25.4
"""Dots to the mm of a printer of 600 dots to the inch."""


def dark_runs(line: np.ndarray[Any, Any]) -> list[tuple[int, int]]:
    """Where ink begins and ends along a row or column of dots."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(np.int8), [0]))))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def middle_near(line: np.ndarray[Any, Any], at: float) -> float:
    """The middle of the run of ink nearest to a place, mm."""
    middles = [(first + last) / 2 / DOTS for first, last in dark_runs(line)]
    return min(middles, key=lambda middle: abs(middle - at))


@pytest.mark.parametrize("paper", DESK_PAPERS)
def test_a_printers_dots_show_bars_and_board_at_their_size(pack: Packs, drawn: Any, paper: str) -> None:
    board = next(called(drawn("orchard", paper), "board outline", "front board"))
    page = pypdfium2.PdfDocument(pack("orchard", paper).pdf)[board.page - 1]
    dots = page.render(scale=600 / 72, grayscale=True).to_numpy()
    dark = dots.reshape(dots.shape[0], -1)[::-1] < 128  # row 0 at the foot
    assert (dark.shape[1] / DOTS, dark.shape[0] / DOTS) == pytest.approx(PAPERS_MM[paper], abs=0.05)
    (left, low), (width, height) = (board.left, board.low), board.size
    row, column = dark[round((low + 0.36 * height) * DOTS)], dark[:, round((left + 0.06 * width) * DOTS)]
    assert middle_near(row, left + width) - middle_near(row, left) == pytest.approx(104.775, abs=0.1)
    assert middle_near(column, low + height) - middle_near(column, low) == pytest.approx(146.05, abs=0.1)
    # the mm ticks at a bar's ends: above the one across, left of the one along
    for name, axis, aside in (("bar across", 1, 0.5), ("bar along", 0, -0.5)):
        bar = next(part for part in drawn("orchard", paper) if part.name == name and part.page == board.page)
        beside = round(((bar.low if axis else bar.left) + aside) * DOTS)
        begun = bar.left if axis else bar.low
        ticks = dark[beside] if axis else dark[:, beside]
        assert middle_near(ticks, begun + 100) - middle_near(ticks, begun) == pytest.approx(100, abs=0.1)


def test_a_printer_that_reads_wrong_is_corrected_for() -> None:
    spec = spec_of("orchard", "A4") + b'bar_across = "99 mm"\nbar_along = "101 mm"\n'
    parts = parts_in(make_pack(spec).pdf)
    bars = {part.name: part.size for part in parts if part.page == 4}
    assert bars["bar across"] == pytest.approx((101.0101, 0), abs=0.001)  # 100 x 100 / 99
    assert bars["bar along"] == pytest.approx((0, 99.0099), abs=0.001)  # 100 x 100 / 101
    (board,) = called(parts, "board outline", "front board")
    assert board.size == pytest.approx((105.8333, 144.6040), abs=0.001)  # 104.775 / 0.99 by 146.05 / 1.01
    (guide,) = called(parts, "punch guide", "punch guide")  # a quarter turned: 139.7 / 0.99 by 215.9 / 1.01
    assert guide.size == pytest.approx((141.1111, 213.7624), abs=0.001)


def made_by_command(spec: Path, cwd: Path, *, standard: bool = False, **environment: str) -> bytes:
    command = [sys.executable, "-m", "bookplates", "make", "-" if standard else str(spec), "-o", "-"]
    given = spec.read_bytes() if standard else b""
    ran = subprocess.run(command, cwd=cwd, env={**os.environ, **environment}, input=given, capture_output=True, check=True)
    return ran.stdout


def test_the_same_book_is_the_same_bytes_everywhere(pack: Packs, tmp_path: Path) -> None:
    elsewhere = tmp_path / "another folder"
    elsewhere.mkdir()
    spec, copy = tmp_path / "orchard.toml", elsewhere / "other name.txt"
    spec.write_bytes(spec_of("orchard", "A4"))
    copy.write_bytes(spec_of("orchard", "A4"))
    here = made_by_command(spec, tmp_path, PYTHONHASHSEED="1", TZ="Pacific/Auckland")
    assert here == pack("orchard", "A4").pdf
    assert here == made_by_command(copy, elsewhere, PYTHONHASHSEED="4242", TZ="America/Anchorage", LC_ALL="C")
    assert here == made_by_command(spec, elsewhere, standard=True, PYTHONHASHSEED="0", SOURCE_DATE_EPOCH="86400")


def test_a_board_that_goes_on_the_page_but_not_its_crosses_is_turned() -> None:
    # A board of 186 + 3.175 - 6.35 = 182.825 mm; A4 leaves 210 - 2 x 6.35 - 11 = 186.3 across, and its crosses need 6 mm more.
    spec = 'title = "Rock pools"\n[text_block]\nleaf = "186 x 120 mm"\nfolios = 6\n[cover]\nstyle = "taped"\n'
    board = next(part for part in parts_in(make_pack(spec).pdf) if (part.plate, part.name) == ("board outline", "front board"))
    left, bottom, right, top = Polygon(board.points).bounds
    assert (right - left, top - bottom) == pytest.approx((126.35, 182.825), abs=0.01)  # 120 + 2 x 3.175


def test_sizes_that_find_no_room_beside_a_tape_guide_are_said_in_it() -> None:
    # 186 + 6.35 + 2 x 25 = 242.35 of A4's 260.3, and 160 + 2 x 10 = 180 of its 186.3: its parts go on the page.
    spec = 'title = "Rock pools"\n[text_block]\nleaf = "90 x 186 mm"\nfolios = 8\n[cover]\nstyle = "taped"\n[tape]\nwidth = 160\n'
    guide = next(part for part in parts_in(make_pack(spec).pdf) if (part.plate, part.name) == ("tape guide", "spine centre"))
    heights = [y for _, y in guide.points]
    assert max(heights) - min(heights) == pytest.approx(242.35, abs=0.01)


def test_a_book_that_opens_on_the_other_side_changes_front_and_back_and_nothing_else() -> None:
    right, left = parts_in(make_pack(ALLOTMENT).pdf), parts_in(make_pack(ALLOTMENT.replace('"right"', '"left"')).pdf)

    def coverings(parts: tuple[Drawn, ...], side: str) -> Polygon:
        return Polygon(next(called(parts, "wrap outline", f"{side} covering")).points)

    for side, other in (("front", "back"), ("back", "front")):
        assert coverings(right, side).area == pytest.approx(coverings(left, other).area, abs=0.01)
    assert [part.name for part in right if part.line == "hole"] == [part.name for part in left if part.line == "hole"]


def test_a_pack_made_from_text_is_that_made_from_bytes(pack: Packs) -> None:
    assert make_pack(spec_of("orchard", "A4").decode()).pdf == pack("orchard", "A4").pdf
    assert make_pack(ORCHARD).plan.title == "Orchard notebook"
