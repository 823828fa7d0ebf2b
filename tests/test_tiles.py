"""Plates spread over several pages, as placed: nothing lost, overlaps as asked, as few pages as may be, seams that meet."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations, product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union

from bookplates.book.record import Plan
from bookplates.errors import Disagreement, PaperTooSmall
from bookplates.geometry import Box, Matrix, Size, bounds, rectangle
from bookplates.kinds.parts import Layout, outline, rule
from bookplates.pages.place import make_pages
from bookplates.pages.sheets import Pack, Placement, Sheet
from bookplates.pages.tiles import row_name
from bookplates.papers.printing import PageSetup
from bookplates.pdf import write_pdf
from bookplates.plates import draw_all
from bookplates.plates.drawing import Drawing, Fill, Label, Stroke
from bookplates.plates.grid import Run
from bookplates.plates.notes import finished, notes
from bookplates.plates.pad import Pad
from bookplates.verify import verify_pack
from check_book import LARGE, book
from drawings import card

A4 = PageSetup(Size(210, 297), 6)
PAPERS = {
    "A4": Size(210.0, 297.0),
    "Letter": Size(215.9, 279.4),
    "A5": Size(148.0, 210.0),
    "Half letter": Size(139.7, 215.9),
    "A3": Size(297.0, 420.0),
}


def laid(drawing: Drawing, setup: PageSetup = A4) -> tuple[Sheet, ...]:
    return make_pages((drawing,), setup, "Tide pool wall book", "Allotment class")


def to_plate(placement: Placement, page: Polygon) -> Polygon:
    """What lies on the page where the plate has it; shapely inverts the placement's turn and move."""
    a, b, c, d, e, f = placement.matrix
    moved = affinity.translate(page, -e, -f)
    return affinity.affine_transform(moved, (a, b, c, d, 0, 0))  # a turn's inverse is its transpose


def windows(pages: tuple[Sheet, ...]) -> dict[str, Polygon]:
    """What each page shows of the plate, by the tile's name."""
    found = {}
    for page in pages:
        tile = page.placements[0]
        assert tile.clip is not None
        found[tile.drawing.title.rsplit(" ", 1)[-1]] = to_plate(tile, box(*tile.clip))
    return found


def name_at(row: int, column: int) -> str:
    return f"{'ABCDEFGHIJ'[row]}{column + 1}"


def fewest(span: float, window: float, overlap: float) -> int:
    """Windows laid one after the other until they reach the end."""
    count, reached = 1, window
    while reached < span:
        count, reached = count + 1, reached + window - overlap
    return count


SETUPS = st.builds(
    PageSetup,
    st.sampled_from(list(PAPERS.values())),
    st.floats(0, 12),
    st.builds(Size, st.floats(96, 104), st.floats(96, 104)),
    st.floats(5, 30),
)


@settings(max_examples=120, deadline=None)
@given(st.floats(20, 900), st.floats(20, 900), st.booleans(), SETUPS)
def test_nothing_is_lost_and_neighbours_overlap_as_asked(wide: float, high: float, turnable: bool, setup: PageSetup) -> None:
    # What is left of the paper, typed anew: 11 mm at the left and 24 mm at the foot, the printer's error divided out;
    # where the foot strip has not 62 mm free beside the bar (11 + 100 + 8.5), 13 mm above it all go to the tile's name.
    across, along = 100 / setup.reading.width, 100 / setup.reading.height
    page_wide, page_high = (setup.paper.width - 2 * setup.margin) / across, (setup.paper.height - 2 * setup.margin) / along
    assume(page_wide > 118 and page_high > 182)
    beside = page_wide - 119.5 >= 62
    room = Size(page_wide - 11, page_high - 24)
    tile = room if beside else Size(room.width, room.height - 13)
    ways = [(wide, high), (high, wide)] if turnable else [(wide, high)]
    assume(not any(w <= room.width + 0.01 and h <= room.height + 0.01 for w, h in ways))
    for w, h in ways:  # just at a page's end more or less a line's width decides
        for size, window in ((w, tile.width), (h, tile.height)):
            assume(min(abs(size - (n * window - (n - 1) * setup.overlap)) for n in range(1, 12)) > 1)
    wanted = min(fewest(w, tile.width, setup.overlap) * fewest(h, tile.height, setup.overlap) for w, h in ways)
    assume(wanted <= 100)
    pages = laid(card("wrap outline", wide, high, turnable=turnable), setup)
    assert len(pages) == wanted
    found = windows(pages)
    plate = box(-3, 2, wide - 3, high + 2)
    assert unary_union(list(found.values())).buffer(1e-6).covers(plate)
    columns = max(int(name[1:]) for name in found)
    rows = len(found) // columns
    for row, column in product(range(rows), range(columns)):
        here = found[name_at(row, column)]
        for other, step in (((row, column + 1), tile.width), ((row + 1, column), tile.height)):
            if other[0] < rows and other[1] < columns:
                shared = here.intersection(found[name_at(*other)])
                assert min(side_lengths(shared)) == pytest.approx(setup.overlap, abs=1e-6)
                assert here.area - shared.area == pytest.approx(here.area * (1 - setup.overlap / step), rel=1e-6)
    margin = Size(setup.margin / across, setup.margin / along)
    for page in pages:
        clip = page.placements[0].clip
        assert clip is not None
        assert clip.left >= margin.width + 11 - 1e-6
        assert clip.bottom >= margin.height + 24 - 1e-6
        assert clip.right <= setup.paper.width / across - margin.width + 1e-6
        assert clip.top <= setup.paper.height / along - margin.height + 1e-6
        assert page.correction == pytest.approx((across, along))


def side_lengths(shape: Polygon) -> tuple[float, float]:
    left, bottom, right, top = shape.bounds
    return right - left, top - bottom


def test_a_plate_is_turned_where_that_takes_fewer_pages() -> None:
    # Upright 187 x 261 mm a page: 187 + 177 = 364 < 400 takes three columns, 261 + 251 = 512 two rows; turned 261 + 251
    # = 512 is enough for 400, and 187 + 177 = 364 for 360.
    turned = laid(card("tape guide", 400, 360))
    assert len(turned) == 4
    assert turned[0].placements[0].matrix[:4] == (0, 1, -1, 0)
    assert len(laid(card("tape guide", 400, 360, turnable=False))) == 6


def test_rows_have_letters_from_the_top_and_columns_numbers_from_the_left() -> None:
    found = windows(laid(card("wrap outline", 360, 500, turnable=False)))
    assert set(found) == {"A1", "A2", "B1", "B2"}
    assert found["A1"].centroid.x < found["A2"].centroid.x
    assert found["B1"].centroid.y < found["A1"].centroid.y


def test_each_tile_draws_its_parts_whole_and_says_which_it_is() -> None:
    drawing = card("wrap outline", 300, 400, title="wrap outline, covering")
    pages = laid(drawing)
    assert [page.title for page in pages] == [f"wrap outline, covering: tile {name}" for name in ("A1", "A2", "B1", "B2")]
    for page in pages:
        tile, about, framed = page.placements
        assert list(tile.drawing.parts()) == list(drawing.parts())
        assert {part.part for part in framed.drawing.parts()} == {"bar across", "bar along"}
        assert not list(about.drawing.parts())


def test_a_small_plate_does_not_lie_beside_a_tile() -> None:
    cards = (card("wrap outline", 300, 200), card("spacer", 20, 60))
    pages = make_pages(cards, A4, "Tide pool wall book", "")
    assert [page.placements[0].drawing.plate for page in pages] == ["wrap outline", "wrap outline", "spacer"]
    assert [placement.drawing.plate for placement in pages[2].placements][:1] == ["spacer"]


def test_more_pages_than_anybody_joins_are_refused_with_paper_that_would_do() -> None:
    # A page shows 187 x 261 mm: (2000 - 10) / 177 = 11.2 columns, (2100 - 10) / 251 = 8.3 rows, 12 x 9 = 108 pages; turned
    # (2000 - 10) / 251 = 7.9 and (2100 - 10) / 177 = 11.8, 8 x 12 = 96. On A3 it is far fewer.
    assert len(laid(card("wrap outline", 2000, 2100))) == 96
    with pytest.raises(PaperTooSmall) as caught:
        laid(card("wrap outline", 2000, 2100, turnable=False))
    (problem,) = caught.value.problems
    assert (problem.where, "more than 100 pages" in problem.what) == ("print.paper", True)
    assert problem.hint.startswith("A3 or Letter would do")
    # Letter: 279.4 - 12 - 24 = 243.4 high and 215.9 - 23 = 192.9 wide: (2090 / 233.4 = 8.95) x (1990 / 182.9 = 10.9) = 9 x 11
    assert len(laid(card("wrap outline", 2000, 2100, turnable=False), PageSetup(Size(215.9, 279.4), 6))) == 99


def test_words_that_would_be_cut_are_refused_not_lost() -> None:
    drawing = card("wrap outline", 300, 200)
    long = Label("all the way across the plate and over every seam that there could be, from end to end " * 2, (0, 100), 4)
    with pytest.raises(PaperTooSmall, match="words too long"):
        laid(replace(drawing, items=(*drawing.items, long)))


@pytest.mark.parametrize(
    ("low", "high", "whole"),
    [
        (20, 94, True),  # the windows 0 to 100 and 90 to 190 are joined at 95
        (90, 96, False),  # six millimetres over the seam
        (96, 180, True),
        (93.6, 96.6, True),  # a line of words that the seam runs along, within the overlap of 90 to 100
        (89, 92, True),
        (187, 191, False),
        (-1, 5, False),
    ],
)
def test_words_are_clear_of_seams_or_one_line_along_one(low: float, high: float, whole: bool) -> None:
    assert Run(0, 100, 10, 2).takes(low, high) is whole


def test_rows_beyond_z_have_two_letters() -> None:
    assert [row_name(row) for row in (0, 1, 25, 26, 27, 52)] == ["A", "B", "Z", "AA", "AB", "BA"]


# ---- seams and what is said of a tile


def said(page: Sheet) -> Drawing:
    return page.placements[1].drawing


def texts(drawing: Drawing) -> list[str]:
    return [item.text for item in drawing.items if isinstance(item, Label)]


def marks(page: Sheet) -> set[tuple[float, float]]:
    """The middles of the register marks, as the plate has them."""
    tile = page.placements[0]
    circles = (item for item in said(page).items if isinstance(item, Stroke) and item.line == "hole")
    middles = (Box(*bounds(circle.points)).middle for circle in circles)
    placed = (to_plate(tile, Point(middle)) for middle in middles)  # type: ignore[arg-type]
    return {(round(point.x, 4), round(point.y, 4)) for point in placed}


# Two columns and two rows have four seams; with 40 mm, upright, (350 - 40) / 147 = 2.1 takes three columns, and seven.
@pytest.mark.parametrize(("overlap", "turnable", "seams"), [(5.0, True, 4), (10.0, False, 4), (40.0, True, 4), (40.0, False, 7)])
def test_register_marks_of_neighbours_meet_in_the_middle_of_the_overlap(overlap: float, turnable: bool, seams: int) -> None:
    setup = replace(A4, overlap=overlap)
    pages = laid(card("wrap outline", 350, 300, turnable=turnable), setup)
    shapes = list(windows(pages).values())
    joined = 0
    for (page, shape), (other, beside) in combinations(zip(pages, shapes, strict=True), 2):
        shared = shape.intersection(beside)
        if shared.area > overlap * overlap * 1.01:  # more than a corner
            joined += 1
            both = {mark for mark in marks(page) & marks(other) if shared.buffer(1e-3).covers(Point(mark))}
            assert len(both) == 2
            left, bottom, right, top = shared.bounds
            middle = ((left + right) / 2, (bottom + top) / 2)
            axis = 0 if right - left < top - bottom else 1
            assert all(mark[axis] == pytest.approx(middle[axis], abs=1e-3) for mark in both)
            (x0, y0), (x1, y1) = both
            assert math.hypot(x1 - x0, y1 - y0) > 0.5 * max(side_lengths(shared)) - overlap
    assert joined == seams


def test_the_trimmed_page_and_the_one_below_say_what_to_do() -> None:
    a1, a2, b1, b2 = (texts(said(page)) for page in laid(card("wrap outline", 350, 500, turnable=False)))
    assert "Trim A1 along this line and lay its edge on A2." in a1
    assert "Trim A1 along this line and lay its edge on B1." in a1
    assert "Lay the trimmed edge of A1 to this line." in a2
    assert "Lay the trimmed edge of A1 to this line." in b1
    assert not any("Trim B2" in text for text in b2)
    assert sum("Lay the trimmed edge" in text for text in b2) == 2
    for name, page in zip(("A1", "A2", "B1", "B2"), (a1, a2, b1, b2), strict=True):
        assert page.count(name) == 2  # large, and on the map
        assert {"A1", "A2", "B1", "B2"} <= set(page)
        assert any(text.startswith("4 tiles") for text in page)


def test_the_map_has_this_tile_grey_where_it_lies() -> None:
    for name, page in zip(("A1", "A2", "B1", "B2"), laid(card("wrap outline", 350, 500, turnable=False)), strict=True):
        (grey,) = [item for item in said(page).items if isinstance(item, Fill)]
        inside = [
            item.text
            for item in said(page).items
            if isinstance(item, Label) and Polygon(grey.points).covers(Point(item.at)) and len(item.text) == 2
        ]
        assert inside == [name]


def test_a_map_of_many_rows_names_this_row_and_column_at_its_edges() -> None:
    """Seven rows on 10.4 mm leave 1.5 mm a cell, and 6 pt letters take 2.2: so rows are named beside the map."""
    pages = laid(card("wrap outline", 350, 1700, turnable=False))
    assert len(pages) == 14  # (1700 - 10) / 251 = 6.7 rows; (350 - 10) / 177 = 1.9 columns
    for number, page in enumerate(pages):
        row, column = "ABCDEFG"[number // 2], str(number % 2 + 1)
        bold = [item for item in said(page).items if isinstance(item, Label) and item.bold and item.text in (row, column)]
        assert {item.text for item in bold} == {row, column}
        (grey,) = [Polygon(item.points) for item in said(page).items if isinstance(item, Fill)]
        left, bottom, right, top = grey.bounds
        beside, above = (next(item for item in bold if item.text == text) for text in (row, column))
        assert bottom - 1.2 < beside.at[1] < top
        assert left < above.at[0] < right
        assert min(item.size for item in bold) >= 2.1166  # 6 / 72 x 25.4


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())
@pytest.mark.parametrize("correction", [Size(100, 100), Size(95, 105)])
def test_no_words_are_smaller_than_six_points_nor_off_the_page(paper: Size, correction: Size) -> None:
    setup = PageSetup(paper, 5, correction)
    for page in laid(card("wrap outline", 420, 560), setup):
        sheet = box(4.9, 4.9, paper.width - 4.9, paper.height - 4.9)
        for item in said(page).items:
            if isinstance(item, Label):
                assert item.size * min(page.correction) >= 2.1166  # 6 / 72 x 25.4
                assert sheet.covers(Point(item.at[0] * page.correction.width, item.at[1] * page.correction.height))


# ---- plates of books


@cache
def large_plan() -> Plan:
    return book(LARGE)


def spread(plan: Plan, setup: PageSetup) -> Iterator[tuple[Drawing, tuple[Sheet, ...]]]:
    for drawing in draw_all(plan, setup):
        if drawing.grid:
            yield drawing, laid(drawing, setup)


def room_of(label: Label) -> Polygon:
    from test_plates import letters  # typed anew there, for Source Sans's tallest and deepest letters

    return letters(label)


@pytest.mark.parametrize("overlap", [5.0, 10.0, 50.0])
@pytest.mark.parametrize("paper", ["A4", "Letter", "A5"])
def test_no_word_of_a_book_is_cut_or_lost(paper: str, overlap: float) -> None:
    setup = PageSetup(PAPERS[paper], 6.35, overlap=overlap)
    several = 0
    for drawing, pages in spread(large_plan(), setup):
        several += 1
        lost = [item for item in drawing.items if isinstance(item, Label)]
        for page in pages:
            tile = page.placements[0]
            shows = to_plate(tile, box(*tile.clip)).buffer(1e-6)  # type: ignore[misc]
            for item in tile.drawing.items:
                if isinstance(item, Label):
                    assert shows.covers(room_of(item)), (page.title, item.text)
                    lost = [other for other in lost if other != item]
        assert not lost, (drawing.title, [label.text for label in lost])
    assert several >= 7  # board, two coverings, lining, tape guide and both punch guides


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_seam_cuts_words_but_a_line_it_runs_along(paper: str) -> None:
    setup = PageSetup(PAPERS[paper], 6.35)
    for _, pages in spread(large_plan(), setup):
        for page in pages:
            tile = page.placements[0]
            labels = [to_plate(tile, box(*tile.clip)) and room_of(i) for i in tile.drawing.items if isinstance(i, Label)]  # type: ignore[misc]
            for item in said(page).items:
                if isinstance(item, Stroke) and item.line == "hidden":
                    (x0, y0), (x1, y1) = item.points
                    seam = to_plate(tile, box(min(x0, x1), min(y0, y1), max(x0, x1) + 1e-4, max(y0, y1) + 1e-4))
                    assert not any(label.intersects(seam) for label in labels)


def test_prick_marks_and_corners_keep_clear_of_seams() -> None:
    for drawing, pages in spread(large_plan(), PageSetup(PAPERS["A4"], 6.35)):
        if drawing.plate in ("board outline", "wrap outline", "lining outline"):
            shapes = list(windows(pages).values())
            overlaps = [one.intersection(other) for one, other in combinations(shapes, 2) if one.intersects(other)]
            corners = [point for part in drawing.parts() for point in part.points]
            assert not any(shared.covers(Point(corner)) for shared in overlaps for corner in corners), drawing.title


def ruled_card() -> Layout:
    """A card of 170 x 250 mm, ruled so close that no words go between its lines."""
    rules = (rule(f"line {y}", "fold", (0, 2 * y), (170, 2 * y)) for y in range(1, 125))
    return Layout("punch guide", "", (outline("punch guide", "cut", rectangle(0, 0, 170, 250)), *rules))


def test_words_that_find_no_room_have_a_page_of_their_own_that_is_not_joined() -> None:
    # Its parts go on A4 (187 x 261 mm), and beside them are left 17 mm and 11 mm: no room for a column of 34 mm.
    pad = Pad(ruled_card(), A4)
    notes(pad, "How to use it", ["Lay it on the table, head to the wall, and weight its corners."] * 12)
    drawing = finished(pad, "punch guide", "punch guide")
    first, second = laid(drawing)
    assert "How to use it" in texts(second.placements[0].drawing)
    assert "How to use it" not in texts(first.placements[0].drawing)
    assert "This page holds words only: it need not be joined." in " ".join(texts(said(second)))
    assert [page.placements[0].drawing.title for page in (first, second)] == ["punch guide", "punch guide: words"]
    assert not any("tile" in text for page in (first, second) for text in texts(said(page)))
    assert not any("Trim" in text or "trim" in text for page in (first, second) for text in texts(said(page)))
    assert not marks(first) | marks(second)
    card_alone = windows((first, second))[first.placements[0].drawing.title.rsplit(" ", 1)[-1]]
    assert card_alone.buffer(1e-6).covers(box(0, 0, 170, 250))


# ---- what is measured


def pack_on(plan: Plan, setup: PageSetup) -> tuple[Sheet, ...]:
    return make_pages(draw_all(plan, setup), setup, plan.title, plan.maker, plan.units)


def measured(plan: Plan, pages: tuple[Sheet, ...]) -> int:
    return verify_pack(plan.layouts, write_pdf(Pack(plan.title, plan.maker, pages, b""))).parts


def test_a_pack_with_a_tile_too_few_is_not_as_planned() -> None:
    plan, pages = large_plan(), pack_on(large_plan(), A4)
    assert measured(plan, pages) > 100
    short = tuple(page for page in pages if page.title != "wrap outline, front: tile B1")
    assert len(short) == len(pages) - 1
    with pytest.raises(Disagreement, match=r"wrap outline \(front\): the pages that it stands on do not show all of it"):
        measured(plan, short)


def test_a_window_too_small_is_not_as_planned() -> None:
    def cut(page: Sheet) -> Sheet:
        first, *others = page.placements
        if page.title != "board outline: tile A1" or first.clip is None:
            return page
        return replace(page, placements=(replace(first, clip=first.clip._replace(right=first.clip.right - 10.1)), *others))

    plan, pages = large_plan(), pack_on(large_plan(), A4)
    with pytest.raises(Disagreement, match="board outline: the pages that it stands on"):
        measured(plan, tuple(map(cut, pages)))


def test_a_tile_moved_on_its_page_still_measures_true_but_one_stretched_does_not() -> None:
    plan, pages = large_plan(), pack_on(large_plan(), A4)

    def stretched(page: Sheet) -> Sheet:
        first, *others = page.placements
        if not page.title.endswith("tile A2"):
            return page
        return replace(page, placements=(replace(first, matrix=first.matrix.after(Matrix.scale(1.001, 1.0))), *others))

    with pytest.raises(Disagreement, match="mm from the plan"):
        measured(plan, tuple(map(stretched, pages)))
