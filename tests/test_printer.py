"""Printers as they are: any paper, margins of their own on each side, bars that read long or short.

Every pack is held against readers that share no code with the program: pdfminer for what is drawn, pypdfium2 for what a
printer with that error puts on paper. Also which words of [print] are understood, and which refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy
import pypdfium2
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from PIL import Image

from bookplates.errors import PaperTooSmall
from bookplates.pipeline import Made, make_pack, plan, problems_of
from bookplates.readback import as_json, measure_pdf
from commands import MINIMAL
from outside import Drawn, parts_in

MM = 25.4 / 72
PAPERS = {  # width and height upright, mm: ISO 216, and 8.5 x 11 in, 5.5 x 8.5 in, by hand
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "a4 LANDSCAPE": (210.0, 297.0),
    "A5, portrait": (148.0, 210.0),
    "Letter": (215.9, 279.4),
    "Half letter landscape": (139.7, 215.9),
}


@dataclass(frozen=True)
class Printer:
    """What stands in [print], and what it comes to: upright paper and margins in mm, and what the bars read."""

    toml: str
    paper: tuple[float, float]
    margins: dict[str, float]
    reading: tuple[float, float]


@st.composite
def printers(draw: st.DrawFn) -> Printer:
    """Named paper or a pair either way round, one margin or four, readings within 5 %, an overlap; what is left out is usual."""
    name = draw(st.sampled_from([*PAPERS, None]))
    sides = draw(st.tuples(st.integers(150, 300), st.integers(190, 420)))
    paper = PAPERS[name] if name else (float(min(sides)), float(max(sides)))
    written = f'"{name}"' if name else f'"{sides[0]} x {sides[1]} mm"'
    margins = draw(st.dictionaries(st.sampled_from(["top", "bottom", "left", "right"]), st.integers(0, 12)))
    one = draw(st.none() | st.integers(0, 9))
    usual = 6.35 if one is None else float(one)  # a quarter of an inch
    tables = "{ " + ", ".join(f"{side} = {mm}" for side, mm in margins.items()) + " }" if one is None else str(one)
    across, along, overlap = draw(st.tuples(st.integers(950, 1050), st.integers(950, 1050), st.integers(5, 25)))
    lines = (
        "[print]",
        f"paper = {written}",
        f"margin = {tables}",
        f"overlap = {overlap}",
        f'bar_across = "{across / 10} mm"',
        f"bar_along = {along / 10}",
    )
    given = {side: float(margins.get(side, usual)) if one is None else usual for side in ("top", "bottom", "left", "right")}
    return Printer("\n".join(lines), paper, given, (across / 10, along / 10))


BOOKS = st.builds(
    '[text_block]\nleaf = "{} x {} mm"\nfolios = 6\n[cover]\nstyle = "{}"\n'.format,
    st.integers(60, 130),
    st.integers(80, 190),
    st.sampled_from(["taped", "wrapper"]),
)


@settings(
    max_examples=12, derandomize=True, deadline=None, phases=[Phase.generate], suppress_health_check=list(HealthCheck)
)  # a pack takes too long to make for the search for the least book that fails
@given(printers(), BOOKS)
def test_any_printer_prints_any_book_true(printer: Printer, book: str) -> None:
    source = f'title = "Tide pool notes"\n{book}{printer.toml}\n'
    try:
        made = make_pack(source)
    except PaperTooSmall as error:
        width, height = printer.paper
        reach = (
            width - printer.margins["left"] - printer.margins["right"],
            height - printer.margins["top"] - printer.margins["bottom"],
        )
        assert reach[0] < 118 * 1.06 or reach[1] < 182 * 1.06  # what the scale page needs, and the printer's error
        assert all(problem.where == "print.paper" for problem in error.problems)
        return
    drawn = parts_in(made.pdf)
    bars_are_as_asked(made, drawn, printer)
    everything_is_within_reach(made.pdf, printer)
    measure_says_so(made, drawn, printer)
    a_print_with_that_error_is_true(made.pdf, drawn, printer)


def bars_are_as_asked(made: Made, drawn: tuple[Drawn, ...], printer: Printer) -> None:
    """Both bars once on every page, 100 x 100 / reading mm long (section 8 of the design), level and upright."""
    for page in range(1, made.pages + 1):
        across, along = ([bar for bar in drawn if bar.page == page and bar.name == name] for name in ("bar across", "bar along"))
        assert (len(across), len(along)) == (1, 1)
        assert across[0].size == pytest.approx((10_000 / printer.reading[0], 0), abs=0.01)
        assert along[0].size == pytest.approx((0, 10_000 / printer.reading[1]), abs=0.01)


DPI = 150


def everything_is_within_reach(pdf: bytes, printer: Printer) -> None:
    """No ink where the printer cannot put any, within half the widest line and a dot and a half: no page is whole dots wide."""
    dot = 25.4 / DPI
    for page in pypdfium2.PdfDocument(pdf):
        size = [side * MM for side in page.get_size()]
        assert size == pytest.approx(printer.paper, abs=0.01)
        ink = numpy.asarray(page.render(scale=DPI / 72).to_pil().convert("L")) < 200
        rows, columns = numpy.flatnonzero(ink.any(axis=1)), numpy.flatnonzero(ink.any(axis=0))
        left_bare = {
            "top": rows[0] * dot,
            "bottom": size[1] - (rows[-1] + 1) * dot,
            "left": columns[0] * dot,
            "right": size[0] - (columns[-1] + 1) * dot,
        }
        for side, margin in printer.margins.items():
            assert left_bare[side] >= margin - 0.18 - 1.5 * dot, side


def measure_says_so(made: Made, drawn: tuple[Drawn, ...], printer: Printer) -> None:
    """paper_width and paper_height as pdfminer finds them, the others what the page's bars make of those, and the plan's."""
    measured: dict[str, Any] = as_json(measure_pdf(made.pdf))
    assert (measured["pages"], len(measured["parts"])) == (made.pages, len(drawn))
    pieces = {piece.name: piece for piece in made.plan.pieces}
    for part, seen in zip(measured["parts"], drawn, strict=True):
        assert (part["page"], part["plate"], part["name"], part["line"]) == (seen.page, seen.plate, seen.name, seen.line)
        paper, true = (part["paper_width"], part["paper_height"]), (part["width"], part["height"])
        scales = [reading / 100 for reading in printer.reading]
        ways = [(seen.size, scales), (seen.size[::-1], scales[::-1])]  # as the plate stands, or turned a quarter
        assert any(
            paper == pytest.approx(size, abs=0.01)
            and true == pytest.approx([s * k for s, k in zip(size, scale, strict=True)], abs=0.01)
            for size, scale in ways
        ), part
        piece = pieces.get(part["name"]) if part["line"] == "cut" and part["plate"] in ("board outline", "wrap outline") else None
        if piece:
            assert true == pytest.approx((piece.width, piece.height), abs=0.01)


DOTS = 300 / 25.4
"""To the mm."""


def a_print_with_that_error_is_true(pdf: bytes, drawn: tuple[Drawn, ...], printer: Printer) -> None:
    """Rendered at 300 dots to the inch and pulled as the printer pulls, each bar is 1181.1 dots long: 100 / 25.4 x 300.

    As a rule is laid on: from the middle of its first tick to that of its last, on the second page, beside its millimetres.
    """
    wide, high = (reading / 100 for reading in printer.reading)
    image = pypdfium2.PdfDocument(pdf)[1].render(scale=300 / 72).to_pil().convert("L")
    pulled = image.transform(
        (int(image.width * wide) + 1, int(image.height * high) + 1),
        Image.Transform.AFFINE,
        (1 / wide, 0, 0, 0, 1 / high, 0),
        Image.Resampling.BILINEAR,
    )
    dark = 1 - numpy.asarray(pulled) / 255
    across, along = (next(bar for bar in drawn if bar.page == 2 and bar.name == name) for name in ("bar across", "bar along"))
    row, foot = ((printer.paper[1] - y) * DOTS * high for y in (across.low, along.low))
    start, column = (x * DOTS * wide for x in (across.left, along.left))
    assert _long(dark[int(row - BESIDE)], int(start)) == pytest.approx(1181.1, abs=1)
    assert _long(dark[::-1, int(column - BESIDE)], int(len(dark) - foot)) == pytest.approx(1181.1, abs=1)


DOTS = 300 / 25.4
"""To the mm."""
BESIDE = 7
"""Dots from the middle of a bar to where its line, 4 dots wide, is left behind and the ticks still reach."""


def _long(line: Any, start: int) -> float:
    """From the middle of the first tick in a line of dots, about `start`, to that of the last."""
    inked = start - 10 + numpy.flatnonzero(line[start - 10 : start + 1200] > 0.1)
    ticks = numpy.split(inked, 1 + numpy.flatnonzero(numpy.diff(inked) > 1))
    assert len(ticks) == 11  # one every 10 mm
    first, last = (float((line[tick] * tick).sum() / line[tick].sum()) for tick in (ticks[0], ticks[-1]))
    return last - first


# ---- what is understood, and what refused


def book(lines: str) -> str:
    return f"{MINIMAL.decode()}[print]\n{lines}\n"


def bars_of(made: Made) -> set[tuple[float, float]]:
    """Lengths on paper of the bars across and along, rounded to 1/1000 mm, over all pages."""
    drawn = parts_in(made.pdf)
    across, along = (sorted({round(max(b.size), 3) for b in drawn if b.name == name}) for name in ("bar across", "bar along"))
    return set(zip(across, along, strict=True))


@pytest.mark.parametrize(
    ("lines", "bars"),
    [
        # 3 15/16 in = 3.9375 x 25.4 = 100.0125 mm; 10000 / 100.0125 = 99.9875
        ('bar_across = "3 15/16 in"', (99.988, 100.0)),
        # 4 in = 101.6; 10000 / 101.6 = 98.425
        ("bar_along = '4\"'", (100.0, 98.425)),
        # 10000 / 95 = 105.263, 10000 / 105 = 95.238
        ('bar_across = "95 mm"\nbar_along = 105', (105.263, 95.238)),
        ('bar_across = "10.5 cm"\nbar_along = 95.0', (95.238, 105.263)),
        ("", (100.0, 100.0)),
    ],
)
def test_bars_print_so_that_the_next_print_is_true(lines: str, bars: tuple[float, float]) -> None:
    assert bars_of(make_pack(book(lines))) == {bars}


@pytest.mark.parametrize(
    ("lines", "paper"),
    [
        ('paper = "A4 landscape"', (210, 297)),
        ('paper = "a4 portrait"', (210, 297)),
        ("paper = [297, 210]", (210, 297)),
        ('paper = ["21 cm", "11 in"]', (210, 279.4)),
        ('paper = "11 x 8.5 in"', (215.9, 279.4)),
        ('paper = "Letter, landscape"', (215.9, 279.4)),
        ('margin = { top = "5 mm", left = "1 in" }', (210, 297)),
        ("margin = {}", (210, 297)),
        ("margin = 0", (210, 297)),
    ],
)
def test_pages_are_upright_and_the_size_of_the_paper(lines: str, paper: tuple[float, float]) -> None:
    made = make_pack(book(lines))
    for page in pypdfium2.PdfDocument(made.pdf):
        assert ([side * MM for side in page.get_size()], page.get_rotation()) == (pytest.approx(paper, abs=0.001), 0)


def test_sides_left_out_of_the_margins_are_a_quarter_of_an_inch() -> None:
    """The title block's frame reaches the left, the right and the lower margin; half its line, 0.125 mm, lies beyond."""
    made = make_pack(book('margin = { bottom = "9 mm", left = "1 in" }'))
    page = pypdfium2.PdfDocument(made.pdf)[0]
    ink = numpy.asarray(page.render(scale=DPI / 72).to_pil().convert("L")) < 200
    rows, columns = numpy.flatnonzero(ink.any(axis=1)), numpy.flatnonzero(ink.any(axis=0))
    dot = 25.4 / DPI
    assert columns[0] * dot == pytest.approx(25.4, abs=2 * dot)
    assert 210 - (columns[-1] + 1) * dot == pytest.approx(6.35, abs=2 * dot)
    assert 297 - (rows[-1] + 1) * dot == pytest.approx(9, abs=2 * dot)
    assert rows[0] * dot > 6.35 - dot


@pytest.mark.parametrize(
    ("lines", "where", "why"),
    [
        ('bar_across = "94.9 mm"', "print.bar_across", "fit to page"),
        ("bar_along = 105.1", "print.bar_along", "fit to page"),
        ('bar_along = "4 1/4 in"', "print.bar_along", "fit to page"),  # 107.95 mm
        ("bar_across = 0", "print.bar_across", "fit to page"),
        ("bar_across = true", "print.bar_across", ""),
        ("margin = { head = 3 }", "print.margin.head", "no key"),
        ("margin = { top = 31 }", "print.margin.top", "out of range"),
        ("margin = { left = -1 }", "print.margin.left", "out of range"),
        ("margin = 31", "print.margin", "out of range"),
        ("margin = [5, 5, 5, 5]", "print.margin", ""),
        ("copies = 0", "print.copies", "out of range"),
        ("copies = 501", "print.copies", "out of range"),
        ("copies = 1.5", "print.copies", ""),
        ("copies = true", "print.copies", "wrong kind"),
        ('copies = "2"', "print.copies", "wrong kind"),
        ('paper = "A4 sideways"', "print.paper", ""),
        ('paper = "landscape"', "print.paper", ""),
        ("paper = [210]", "print.paper", ""),
        ("paper = [99, 300]", "print.paper", "out of range"),
        ('large_paper = "Poster"', "print.large_paper", ""),
        ('large_paper = "2001 x 300 mm"', "print.large_paper", "out of range"),
        ('large_paper = ""', "print.large_paper", ""),
        ("overlap = 4", "print.overlap", "out of range"),
        ("overlaps = 10", "print.overlaps", "no key"),
    ],
)
def test_what_no_printer_does_is_refused_by_its_key(lines: str, where: str, why: str) -> None:
    problems = problems_of(book(lines))
    assert [problem.where for problem in problems] == [where]
    assert why in problems[0].what
    assert problems[0].hint
    assert any(warning.where == where for warning in plan(book(lines)).warnings)  # plan never refuses because of [print]


@pytest.mark.parametrize("lines", ['paper = "A5"\nmargin = 30', 'paper = "100 x 150 mm"', 'margin = 30\npaper = "170 x 240 mm"'])
def test_margins_that_leave_nothing_are_refused_with_what_is_needed(lines: str) -> None:
    with pytest.raises(PaperTooSmall) as refused:
        make_pack(book(lines))
    assert refused.value.problems[0].where == "print.paper"
    assert "118 x 182 mm" in refused.value.problems[0].what
