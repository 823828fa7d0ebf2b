"""Layers that a viewer can hide, as pikepdf reads them and pypdfium2 shows them."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pikepdf
import pypdfium2  # type: ignore[import-untyped]  # it ships no types
import pytest

from bookplates.geometry import Box, Matrix, Size
from bookplates.lengths import both
from bookplates.pages.sheets import Pack, Placement, Sheet
from bookplates.papers.printing import PageSetup
from bookplates.pdf import write_pdf
from bookplates.pipeline import make_pack, plan
from bookplates.plates import draw_all
from bookplates.plates.drawing import Drawing, Fill, Item, Label, Layer, Stroke, layer_of
from bookplates.plates.flow import shifted
from bookplates.plates.pad import mapped, moved
from bookplates.readback import measure_pdf
from drawings import card, pack_of, sampler

A4 = PageSetup(Size(210, 297), 6)
ORCHARD = """\
title = "Orchard notebook"
[text_block]
leaf = "105 x 148 mm"
folios = 8
caliper = "0.1 mm"
[cover]
style = "taped"
"""
SHEET = Size(210, 297)


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(data))


@pytest.fixture(scope="module")
def orchard() -> bytes:
    return make_pack(ORCHARD).pdf


def alone(items: Iterable[Item], *, title: str = "proof", whole_page: bool = False, size: Size = SHEET) -> bytes:
    """A page with these items and nothing else, 30 mm from its left and foot."""
    drawing = Drawing("proof", title, tuple(items), Box(0, 0, 120, 120), whole_page=whole_page)
    return write_pdf(Pack("Proof", "", (Sheet(size, "proof", (Placement(drawing, Matrix.move(30, 30)),)),), b""))


def dots(data: bytes, page: int = 0) -> np.ndarray[Any, Any]:
    """A page at 150 dots to the inch, in grey."""
    shown = pypdfium2.PdfDocument(data)[page].render(scale=150 / 72, grayscale=True).to_numpy()
    return np.asarray(shown).reshape(shown.shape[0], -1)


def hidden(data: bytes, *names: str) -> bytes:
    """The document with layers switched off, as a viewer that saves its state does (ISO 32000-1, table 101, OFF)."""
    with opened(data) as pdf:
        layers = {str(group.Name): group for group in pdf.Root.OCProperties.OCGs}
        shown = pdf.Root.OCProperties.D
        shown.OFF = pikepdf.Array([layers[name] for name in names])
        shown.ON = pikepdf.Array([group for name, group in layers.items() if name not in names])
        saved = io.BytesIO()
        pdf.save(saved)
    return saved.getvalue()


def operators(data: bytes, page: int = 0) -> Iterator[tuple[str, list[Any]]]:
    with opened(data) as pdf:
        for instruction in pikepdf.parse_content_stream(pdf.pages[page]):
            yield str(instruction.operator), list(instruction.operands)


def layers_of_parts(data: bytes, page: int = 0) -> dict[str, str | None]:
    """The layer each part of a page lies in."""
    found: dict[str, str | None] = {}
    layer: str | None = None
    marks: list[str] = []
    for operator, operands in operators(data, page):
        if operator == "BDC":
            marks.append(str(operands[0]))
            if operands[0] == "/OC":
                layer = str(operands[1])
            else:
                found[str(operands[1].Name)] = layer
        elif operator == "EMC" and marks.pop() == "/OC":
            layer = None
    return found


# ISO 32000-1, 8.11.4.2 and 8.11.4.3: the catalogue lists every group, and a configuration that is followed on opening.


def test_the_catalogue_lists_the_layers_that_the_pack_uses(orchard: bytes) -> None:
    names = ["Cut lines", "Fold lines", "Places and centre lines", "Holes", "Dimensions", "Notes"]
    with opened(orchard) as pdf:
        said = pdf.Root.OCProperties
        assert [str(group.Name) for group in said.OCGs] == names
        assert all(group.Type == "/OCG" and group.is_indirect for group in said.OCGs)
        assert str(said.D.BaseState) == "/ON"
        assert len(said.D.OFF) == 0
        listed = [group.objgen for group in said.OCGs]
        assert [group.objgen for group in said.D.ON] == [group.objgen for group in said.D.Order] == listed


def test_layers_that_nothing_lies_in_are_not_listed() -> None:
    with opened(write_pdf(pack_of(card("spacer", 60, 40), setup=A4))) as pdf:
        assert [str(group.Name) for group in pdf.Root.OCProperties.OCGs] == ["Cut lines"]
    with opened(alone([Label("all there is", (0, 0), 4)], whole_page=True)) as pdf:
        assert "/OCProperties" not in pdf.Root


def test_every_layer_of_a_page_is_in_its_resources(orchard: bytes) -> None:
    with opened(orchard) as pdf:
        groups = {group.objgen for group in pdf.Root.OCProperties.OCGs}
        for number, page in enumerate(pdf.pages):
            used = {
                str(operands[1])
                for operator, operands in operators(orchard, number)
                if operator == "BDC" and operands[0] == "/OC"
            }
            assert used <= set(page.Resources.Properties.keys())
            assert {group.objgen for group in page.Resources.Properties.values()} <= groups


def test_parts_lie_in_the_layer_of_their_line() -> None:
    assert layers_of_parts(write_pdf(pack_of(sampler(), setup=A4))) == {
        "front board": "/cut",
        "fold rule": "/fold",
        "place rule": "/place",
        "centre rule": "/place",
        "station 1": "/holes",
        "bar across": None,
        "bar along": None,
    }


def test_a_layer_is_never_torn(orchard: bytes) -> None:
    """Marked content begins and ends between graphics objects (ISO 32000-1, 14.6.1), and within one state of graphics."""
    with opened(orchard) as pdf:
        pages = len(pdf.pages)
    for page in range(pages):
        open_ones: list[str] = []
        for operator, operands in operators(orchard, page):
            if operator == "BDC":
                assert [mark for mark in open_ones if mark in ("BT", "path", "/OC")] in ([], ["/OC"])
                assert not (operands[0] == "/OC" and "/OC" in open_ones)
                open_ones.append(str(operands[0]))
            elif operator == "EMC":
                assert open_ones.pop() in ("/OC", "/Part")
            elif operator in ("q", "BT", "m"):
                open_ones.append({"m": "path"}.get(operator, operator))
            elif operator in ("Q", "ET", "S", "f"):
                assert open_ones.pop() == {"Q": "q", "ET": "BT"}.get(operator, "path")
        assert open_ones == []


def test_a_run_of_one_layer_is_marked_once() -> None:
    notes = [Label(word, (0, 10 * at), 4) for at, word in enumerate(("plum", "pear", "quince"))]
    dimension = Stroke(((0, 50), (40, 50)), "thin", layer="dimensions")
    marks = [str(operands[1]) for operator, operands in operators(alone([*notes, dimension])) if operator == "BDC"]
    assert marks == ["/notes", "/dimensions"]


def drawn(title: str) -> Drawing:
    """A plate of the orchard notebook."""
    return next(drawing for drawing in draw_all(plan(ORCHARD), A4) if drawing.title == title)


def test_dimensions_are_arrows_lines_and_figures_alone() -> None:
    found = [item for item in drawn("wrap outline, front").items if layer_of(item) == "dimensions"]
    texts = [item.text for item in found if isinstance(item, Label)]
    assert len(texts) >= 4
    assert all(any(figure.isdigit() for figure in text) and " mm" in text for text in texts)
    # A dimension has two extension lines, a line or two with an arrowhead each end, and its figures (ISO 129-1).
    assert sum(isinstance(item, Fill) for item in found) >= 2 * len(texts)


def test_a_station_keeps_its_cross_when_the_words_go_and_its_distance_is_a_dimension() -> None:
    guide = drawn("punch guide")
    holes = [item for item in guide.items if layer_of(item) == "holes" and isinstance(item, Stroke)]
    stations = [item for item in holes if item.part]
    # A circle and the two lines of its cross for each station.
    assert len(holes) == 3 * len(stations) > 0
    distances = {item.text for item in guide.items if isinstance(item, Label) and item.layer == "dimensions"}
    assert {both(place, "mm") for place in plan(ORCHARD).sewing.stations} <= distances
    assert all(item.layer == "holes" for item in guide.items if isinstance(item, Label) and item.text == "1")


def test_with_the_notes_hidden_one_still_knows_head_from_tail_and_front_from_back() -> None:
    for title, words in {
        "punch guide": {"HEAD", "TAIL", "Punch guide", "grain", "valley fold"},
        "wrap outline, front": {"HEAD", "TAIL", "spine edge", "fore-edge", "Front covering", "top of the motif"},
    }.items():
        plate = drawn(title)
        kept = {item.text for item in plate.items if isinstance(item, Label) and item.layer is None}
        assert words <= kept
        hidden = [item.text for item in plate.items if isinstance(item, Label) and item.layer == "notes"]
        assert "How to use it" in hidden and any("fresh blade" in text for text in hidden)


def test_what_shows_beyond_the_boards_on_a_tape_guide_goes_with_the_places() -> None:
    ends = [item for item in drawn("tape guide").items if isinstance(item, Stroke) and item.line == "medium"]
    assert ends
    assert all(layer_of(item) == "place" for item in ends)


@pytest.mark.parametrize("layer", ["dimensions", None])
def test_what_is_moved_stays_in_its_layer(layer: Layer | None) -> None:
    triangle = ((0.0, 0.0), (4.0, 0.0), (2.0, 3.0))
    items = (Label("5 mm", (1, 2), 3, layer=layer), Fill(triangle, layer=layer), Stroke(triangle, "thin", layer=layer))
    for once in (shifted(items, 3, 4), moved(items, 3, 4), (mapped(item, Matrix.turn(90), 90) for item in items)):
        assert [layer_of(item) for item in once] == [layer] * 3


# What is seen when layers are hidden.

NOTE = Label("lay this side up", (5, 100), 5)
CUT = Stroke(((0, 0), (50, 0), (50, 70), (0, 70)), "cut", closed=True, part="front board")
SIZE = Stroke(((0, 80), (50, 80)), "thin", layer="dimensions")
FIGURES = Label("50 mm", (25, 82), 4, "middle", layer="dimensions")


@pytest.mark.parametrize(
    ("off", "left"),
    [
        (["Notes"], [CUT, SIZE, FIGURES]),
        (["Dimensions"], [CUT, NOTE]),
        (["Cut lines"], [NOTE, SIZE, FIGURES]),
        (["Notes", "Dimensions"], [CUT]),
    ],
)
def test_a_hidden_layer_is_gone_and_the_others_are_as_they_were(off: list[str], left: list[Item]) -> None:
    page = alone([CUT, NOTE, SIZE, FIGURES])
    # "Notes" and "Cut lines" are black as everything is: what is hidden leaves paper, and nothing else changes.
    assert not np.array_equal(dots(page), dots(hidden(page, *off)))
    assert np.array_equal(dots(hidden(page, *off)), dots(alone(left)))


def test_a_line_set_in_a_hidden_layer_holds_after_it() -> None:
    # The second fold line, in no hidden layer, has the dashes that were set for the first (ISO 32000-1, 8.11.3.2).
    first, second = (Stroke(((0, y), (80, y)), "fold", layer=layer) for y, layer in ((10, "notes"), (20, "dimensions")))  # type: ignore[arg-type]
    assert np.array_equal(dots(hidden(alone([first, second]), "Notes")), dots(alone([second])))


@pytest.mark.parametrize(("title", "whole_page"), [("", False), ("steps", True)])
def test_what_must_always_show_is_in_no_layer(title: str, whole_page: bool) -> None:
    page = alone([CUT, NOTE, SIZE], title=title, whole_page=whole_page)
    assert not any(operator == "BDC" and operands[0] == "/OC" for operator, operands in operators(page))


def without_layers(drawing: Drawing) -> Drawing:
    """What of a drawing is in no layer: of a plate its names, of what a page says of itself and of its seams all."""
    items = tuple(item for item in drawing.items if layer_of(item) is None)
    return replace(drawing, items=items) if drawing.layered else drawing


@pytest.mark.parametrize("drawings", [draw_all(plan(ORCHARD), A4), [card("board outline", 400, 300)]], ids=["pack", "tiles"])
def test_with_all_layers_hidden_names_and_what_the_page_says_of_itself_remain(drawings: Iterable[Drawing]) -> None:
    pack = pack_of(*drawings, setup=A4)
    layered = [n for n, sheet in enumerate(pack.pages) if any(one.drawing.layered for one in sheet.placements)]
    left = [tuple(replace(one, drawing=without_layers(one.drawing)) for one in sheet.placements) for sheet in pack.pages]
    bare = replace(pack, pages=tuple(replace(sheet, placements=some) for sheet, some in zip(pack.pages, left, strict=True)))
    data, expected = write_pdf(pack), write_pdf(bare)
    with opened(data) as pdf:
        names = [str(group.Name) for group in pdf.Root.OCProperties.OCGs]
    without = hidden(data, *names)
    assert len(layered) > 2
    for page in layered:
        assert np.array_equal(dots(without, page), dots(expected, page))


def test_without_notes_every_line_and_dimension_is_left(orchard: bytes) -> None:
    page = next(n for n in range(20) if "/fold" in layers_of_parts(orchard, n).values())
    before, after = dots(orchard, page), dots(hidden(orchard, "Notes"), page)
    # Nothing appears that was not there; words go; and notes with the page's frame are the rest of what was black.
    assert (after >= before).all()
    assert (after > before).sum() > 1000
    rest = dots(hidden(orchard, "Cut lines", "Fold lines", "Places and centre lines", "Holes", "Dimensions"), page)
    assert np.array_equal(np.minimum(after, rest), before)


def test_a_hidden_layers_parts_are_measured_all_the_same(orchard: bytes) -> None:
    assert measure_pdf(hidden(orchard, "Cut lines", "Notes")).parts == measure_pdf(orchard).parts


def test_a_drawing_that_comes_again_is_the_same_again() -> None:
    drawing, frames = sampler(), [card(f"frame {n}", 10, 10) for n in range(3)]
    sheets = [Sheet(SHEET, "", (Placement(drawing, Matrix.move(30, 30)), Placement(one, Matrix.move(30, 200)))) for one in frames]
    many = write_pdf(Pack("Class set", "", tuple(sheets), b""))
    for number, sheet in enumerate(sheets):
        fresh = replace(sheet, placements=(replace(sheet.placements[0], drawing=sampler()), sheet.placements[1]))
        assert np.array_equal(dots(many, number), dots(write_pdf(Pack("Class set", "", (fresh,), b""))))
        assert layers_of_parts(many, number)["station 1"] == "/holes"
