"""What a viewer's ruler goes by, and documents of many pages and of pages unlike each other, as pikepdf reads them."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pikepdf
import pytest

from bookplates.geometry import Box, Matrix, Size
from bookplates.pages.sheets import Pack, Placement, Sheet
from bookplates.papers.printing import PageSetup
from bookplates.pdf import write_pdf
from bookplates.plates.drawing import Drawing, Stroke
from drawings import card, pack_of, sampler

A4 = PageSetup(Size(210, 297), 6)
SHEET = Size(210, 297)
CUT = Stroke(((0, 0), (50, 0), (50, 70), (0, 70)), "cut", closed=True, part="front board")


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(data))


# ISO 32000-1, 12.9: what a ruler in the viewer reads.


def measures(setup: PageSetup) -> list[Any]:
    with opened(write_pdf(pack_of(sampler(), card("tape guide", 180, 250), setup=setup))) as pdf:
        found = []
        for page in pdf.pages:
            (viewport,) = page.VP
            assert [float(v) for v in viewport.BBox] == [float(v) for v in page.mediabox]
            assert viewport.Measure.is_indirect
            found.append(viewport.Measure)
        assert len({measure.objgen for measure in found}) == 1
        return [*_numbers(found[0])]


def _numbers(measure: Any) -> Iterator[Any]:
    """Kind, factors across and along (None: the same), of distance and of area, and the ratio."""
    assert str(measure.Subtype) == "/RL"
    assert [str(measure[key][0].U) for key in ("/X", "/D", "/A")] == ["mm", "mm", "mm²"]
    yield float(measure.X[0].C)
    yield float(measure.Y[0].C) * float(measure.CYX) if "/Y" in measure else None
    yield float(measure.D[0].C)
    yield float(measure.A[0].C)
    yield str(measure.R)


def test_a_ruler_in_the_viewer_reads_mm() -> None:
    across, along, distance, area, ratio = measures(A4)
    # 100 mm are 100 / 25.4 x 72 = 283.464567 points.
    assert 283.464567 * across * distance == pytest.approx(100, abs=0.001)
    assert along is None
    assert area == 1
    assert ratio == "1 mm = 1 mm"


def test_a_ruler_reads_the_plates_mm_where_the_print_is_corrected() -> None:
    # Bars read 99 and 101 mm: drawn 100 x 100 / 99 = 101.010101 mm = 286.327845 pt and 99.009901 mm = 280.657987 pt.
    across, along, distance, _, ratio = measures(PageSetup(Size(210, 297), 6, Size(99, 101)))
    assert 286.327845 * across * distance == pytest.approx(100, abs=0.001)
    assert 280.657987 * along * distance == pytest.approx(100, abs=0.001)
    assert ratio == "in X 1.010101 mm = 1 mm, in Y 0.990099 mm = 1 mm"


def test_the_same_correction_both_ways_needs_no_second_factor() -> None:
    # 283.464567 x 100 / 98 = 289.249558 points.
    across, along, distance, _, ratio = measures(PageSetup(Size(210, 297), 6, Size(98, 98)))
    assert 289.249558 * across * distance == pytest.approx(100, abs=0.001)
    assert along is None
    assert ratio == "1.020408 mm = 1 mm"


def test_pages_of_two_sizes_and_corrections_have_viewports_of_their_own() -> None:
    drawing = Drawing("proof", "proof", (CUT,), Box(0, 0, 50, 70))
    wide = Sheet(Size(297, 420), "proof", (Placement(drawing, Matrix.move(30, 30)),), Size(100 / 99, 1))
    small = replace(wide, size=Size(215.9, 279.4))
    true = replace(wide, correction=Size(1, 1))
    with opened(write_pdf(Pack("Proof", "", (wide, small, true, wide), b""))) as pdf:
        assert pdf.check_pdf_syntax() == []
        # 297 / 25.4 x 72 = 841.88976, 420 / 25.4 x 72 = 1190.55118; Letter is 612 x 792.
        boxes = [[float(v) for v in page.VP[0].BBox] for page in pdf.pages]
        large, letter = [0, 0, 841.88976, 1190.55118], [0, 0, 612, 792]
        assert [box == pytest.approx(want, abs=1e-4) for box, want in zip(boxes, (large, letter, large, large), strict=True)] == [
            True
        ] * 4
        assert [[float(v) for v in page.mediabox] for page in pdf.pages] == boxes
        measured = [page.VP[0].Measure.objgen for page in pdf.pages]
        assert measured[0] == measured[1] == measured[3] != measured[2]


# Many pages.


def test_a_thousand_pages_are_one_sound_document() -> None:
    drawings = [card(f"card {n}", 40, 30, title=f"card {n}") for n in range(40)]
    sheets = [Sheet(SHEET, "", (Placement(drawings[n % 40], Matrix.move(20, 20)),)) for n in range(1000)]
    with opened(write_pdf(Pack("Class set", "", tuple(sheets), b""))) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert len(pdf.pages) == 1000
        assert [page.label for page in pdf.pages] == [str(n) for n in range(1, 1001)]
        entries = [(entry.title, entry.to_dictionary_object(pdf)["/Dest"][0].objgen) for entry in pdf.open_outline().root]
        assert entries == [(f"card {n % 40}", pdf.pages[n].obj.objgen) for n in range(1000)]
        outline = pdf.Root.Outlines
        assert int(outline.Count) == 1000
        walked: list[Any] = [outline.First]
        while "/Next" in walked[-1]:
            walked.append(walked[-1].Next)
        assert len(walked) == 1000
        assert walked[-1].objgen == outline.Last.objgen
        assert all(entry.Parent.objgen == outline.objgen for entry in walked)
        assert all(after.Prev.objgen == entry.objgen for entry, after in pairwise(walked))


def test_pages_of_an_excerpt_keep_their_numbers() -> None:
    sheets = [Sheet(SHEET, "", (Placement(card("spacer", 40, 30), Matrix.move(20, 20)),)) for _ in range(5)]
    data = write_pdf(Pack("Orchard", "", tuple(sheets), b"", numbers=(2, 3, 4, 7, 12), excerpt="pages 2-4, 7, 12 of 14"))
    with opened(data) as pdf:
        assert [page.label for page in pdf.pages] == ["2", "3", "4", "7", "12"]
        assert str(pdf.docinfo["/Excerpt"]) == "pages 2-4, 7, 12 of 14"
