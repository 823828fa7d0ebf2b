"""The plates as recorded shapes, no PDF: true-scale parts unchanged, words that meet nothing, and the words themselves."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import combinations

import pytest
from shapely import affinity
from shapely.geometry import LineString, Polygon, box

from bookplates.book.record import Plan
from bookplates.geometry import Size
from bookplates.kinds.boards import mitre_gauge_layout
from bookplates.letters import width
from bookplates.pages.place import make_pages
from bookplates.papers.printing import PageSetup
from bookplates.plates import PLATES, draw_all
from bookplates.plates.drawing import Drawing, Fill, Label, Stroke
from check_book import A4, CHECK, LARGE, LETTER, NARROW, Make, book, opening_right
from shapes import planned

SIX_POINTS = 2.1167  # 6 / 72 x 25.4
BOOKS = {"check": CHECK, "narrow": NARROW, "large": LARGE}
PAPERS = {"Letter": LETTER, "A4": A4}


def setup_for(paper: Size, reading: Size = Size(100.0, 100.0)) -> PageSetup:  # noqa: B008  # a frozen value
    return PageSetup(paper, 6.35, reading)


@pytest.fixture(params=[(name, paper) for name in BOOKS for paper in PAPERS], ids=lambda pair: f"{pair[0]} on {pair[1]}")
def pack(request) -> tuple[Drawing, ...]:
    name, paper = request.param
    return draw_all(book(BOOKS[name]), setup_for(PAPERS[paper]))


def drawn(make: Make = CHECK, plan: Plan | None = None) -> dict[str, Drawing]:
    return {drawing.title: drawing for drawing in draw_all(plan or book(make), setup_for(LETTER))}


def words(drawing: Drawing) -> str:
    """What stands on a plate, its wrapped lines joined again."""
    return " ".join(item.text for item in drawing.items if isinstance(item, Label))


def letters(label: Label) -> Polygon:
    """The room of a label: 0.7 of its size over the baseline and 0.25 below, for Source Sans's tallest and deepest letters."""
    wide = width(label.text, label.size, label.bold)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[label.anchor]
    flat = box(left, -0.25 * label.size, left + wide, 0.7 * label.size)
    turned = affinity.rotate(flat, label.angle, origin=(0, 0))
    return affinity.translate(turned, *label.at)


def line_of(stroke: Stroke) -> LineString:
    return LineString((*stroke.points, stroke.points[0]) if stroke.closed else stroke.points)


def labels(drawing: Drawing) -> list[Label]:
    return [item for item in drawing.items if isinstance(item, Label)]


def place_of(drawing: Drawing, text: str) -> Polygon:
    return next(letters(label) for label in labels(drawing) if label.text == text)


# ---- shapes


@pytest.mark.parametrize("make", BOOKS.values(), ids=BOOKS.keys())
def test_every_part_of_the_plan_is_drawn_once_with_its_points_unchanged(make):
    plan = book(make)
    wanted = Counter(
        (layout.plate, part.name, part.line, part.closed, part.points) for layout in plan.layouts for part in layout.parts
    )
    pack = draw_all(plan, setup_for(LETTER))
    found = Counter(
        (drawing.plate, part.part, part.line, part.closed, part.points) for drawing in pack for part in drawing.parts()
    )
    assert found == wanted


def test_the_pack_is_in_its_order():
    titles = [drawing.title for drawing in draw_all(book(), setup_for(LETTER)) if drawing.plate not in ("sizes", "steps")]
    assert titles == [
        "scale page",
        "board outline",
        "wrap outline, front",
        "wrap outline, back",
        "mitre gauge",
        "lining outline",
        "margin gauge",
        "tape guide",
        "tape gauge",
        "spacer",
        "punch guide",
        "cover punch guide",
    ]
    assert list(PLATES)[:3] == ["scale page", "sizes", "steps"]


def test_a_plate_without_a_layout_is_not_drawn_but_sizes_and_steps_always_are():
    plan = book()
    bare = replace(plan, layouts=tuple(layout for layout in plan.layouts if layout.plate in ("scale page", "punch guide")))
    assert {drawing.plate for drawing in draw_all(bare, setup_for(LETTER))} == {"scale page", "sizes", "steps", "punch guide"}


def test_drawing_twice_gives_the_same():
    first, second = (draw_all(book(), setup_for(A4)) for _ in range(2))
    assert first == second
    assert [drawing.box for drawing in first] == [drawing.box for drawing in second]


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())
def test_the_check_book_goes_on_its_pages(paper):
    room = setup_for(paper).room.size
    for drawing in draw_all(book(), setup_for(paper)):
        wide, high = drawing.box.size
        upright, turned = wide <= room.width + 1e-6 and high <= room.height + 1e-6, wide <= room.height and high <= room.width
        assert upright or (turned and drawing.turnable), drawing.title


# ---- words meet nothing


def test_words_and_lines_stay_in_the_box(pack):
    for drawing in pack:
        room = box(*drawing.box).buffer(1e-6)
        for item in drawing.items:
            shape = letters(item) if isinstance(item, Label) else line_of(Stroke(item.points, "thin"))
            assert room.covers(shape), (drawing.title, item)


def test_no_words_meet_other_words(pack):
    for drawing in pack:
        placed = [(label, letters(label)) for label in labels(drawing)]
        for (one, room), (other, taken) in combinations(placed, 2):
            assert not room.intersects(taken), (drawing.title, one.text, other.text)


def test_no_line_runs_through_words(pack):
    for drawing in pack:
        strokes = [(item, line_of(item)) for item in drawing.items if isinstance(item, Stroke)]
        for label in labels(drawing):
            room = letters(label)
            struck = [stroke.part or stroke.line for stroke, line in strokes if line.intersects(room)]
            assert not struck, (drawing.title, label.text, struck)


def test_no_arrowhead_lies_on_words(pack):
    for drawing in pack:
        heads = [Polygon(item.points) for item in drawing.items if isinstance(item, Fill) and item.grey < 0.5]
        for label in labels(drawing):
            assert not any(head.intersects(letters(label)) for head in heads), (drawing.title, label.text)


def test_no_words_print_under_six_points_even_where_a_printer_is_corrected():
    """A reading of 105 mm shrinks the page to 100 / 105 of itself: the largest correction there is."""
    pack = draw_all(book(), setup_for(LETTER, Size(105.0, 105.0)))
    assert min(label.size for drawing in pack for label in labels(drawing)) * 100 / 105 >= SIX_POINTS


# ---- what a plate must say

MUST_SAY = {
    "board outline": (
        "Cut 2",
        "HEAD",
        "TAIL",
        "spine edge",
        "fore-edge",
        "grain",
        "Prick",
        "turned over",
        "sharps tin",
        "by an adult",
    ),
    "wrap outline, front": (
        "Cut 1",
        "WRONG SIDE OF THE PAPER UP",
        "HEAD",
        "top of the motif",
        "spine edge",
        "grain",
        "four outer corners",
        "after gluing",
    ),
    "wrap outline, back": (
        "Cut 1",
        "WRONG SIDE OF THE PAPER UP",
        "HEAD",
        "top of the motif",
        "spine edge",
        "grain",
        "mitre gauge",
    ),
    "mitre gauge": ("Cut 1 from card", "board's corner", "outer edge", "slanted ends", "pencil line", "metal rule on the line"),
    "lining outline": (
        "Cut 2",
        "RIGHT SIDE UP",
        "HEAD",
        "grain",
        "serves for both, turned over",
        "mirror",
        "paste-down",
        "margin gauge",
    ),
    "margin gauge": ("Cut 1 from card", "there the lining ends"),
    "tape guide": ("OUTSIDE UP", "HEAD", "TAIL", "FRONT", "BACK", "spacer", "from above", "hangs over", "overlap"),
    "tape gauge": ("Cut 1 from card", "there the tape ends"),
    "spacer": ("Cut 2", "offcut", "twice", "backing paper", "slick side out"),
    "punch guide": (
        "HEAD",
        "TAIL",
        "Print this page on heavy paper",
        "circles are as wide as the holes",
        "valley, printed side up",
        "innermost fold",
        "knock",
        "not glue on card",
        "10, then 10",
        "never push it towards a hand",
    ),
    "cover punch guide": (
        "HEAD",
        "TAIL",
        "INSIDE OF THE COVER UP",
        "card",
        "groove",
        "never push it towards a hand",
        "cork on the point",
    ),
    "scale page": ("100 %", "actual size", "cool and dry", "steel rule", "bar_across", "skew", "without a correction"),
}


@pytest.mark.parametrize("make", BOOKS.values(), ids=BOOKS.keys())
@pytest.mark.parametrize("title", MUST_SAY)
def test_a_plate_says_what_a_learner_must_know(make, title):
    said = words(drawn(make)[title]).lower()
    assert [phrase for phrase in MUST_SAY[title] if phrase.lower() not in said] == []


def test_dimensions_stand_on_the_plates_in_both_units():
    plates = drawn()
    for title, figures in {
        "board outline": ("4 1/8 in (104.78 mm)", "5 3/4 in (146.05 mm)"),  # 4.125 x 25.4 = 104.775; 5.75 x 25.4 = 146.05
        "wrap outline, front": (
            "5 1/8 in (130.18 mm)",
            "7 3/4 in (196.85 mm)",
            "turn-in 1 in (25.4 mm)",
        ),  # 104.775 + 25.4; 146.05 + 50.8
        "lining outline": ("3 3/4 in (95.25 mm)", "5 in (127 mm)", "margin 3/8 in (9.53 mm)"),
        "tape guide": ("tape 4 in (101.6 mm)",),
        "punch guide": ("1/2 in (12.7 mm)", "5 in (127 mm)"),
        "cover punch guide": ("5/8 in (15.88 mm)", "5 1/8 in (130.18 mm)"),  # 12.7 + 3.175; 127 + 3.175
    }.items():
        standing = {label.text for label in labels(plates[title])}
        assert set(figures) <= standing, title


def test_millimetres_come_first_in_a_metric_book():
    plan = replace(book(), units="mm")
    assert "127 mm (5 in)" in words(drawn(plan=plan)["lining outline"])


def test_the_spine_edge_is_right_on_a_front_covering_and_left_on_a_back_one():
    plates = drawn()
    for title, right in (("wrap outline, front", True), ("wrap outline, back", False)):
        spine, fore = (place_of(plates[title], text).centroid.x for text in ("spine edge", "fore-edge"))
        assert (spine > fore) is right


def test_a_book_that_opens_at_the_other_side_has_its_front_board_turned():
    sides = [place_of(drawn(plan=plan)["board outline"], "spine edge").centroid.x > 52 for plan in (book(), opening_right())]
    assert sides == [True, False]


@pytest.mark.parametrize(("opening", "right"), [("left", True), ("right", False)])
def test_a_lining_as_large_as_its_board_has_one_spine_edge_and_one_fore_edge(opening, right):
    plan = planned({"cover.lining_margin": 0, "text_block.opening": opening})
    plate = drawn(plan=plan)["lining outline"]
    spine, fore = (place_of(plate, text).centroid.x for text in ("spine edge", "fore-edge"))
    assert (spine > fore) is right


def test_the_tape_guide_names_the_front_at_the_side_of_the_front_board():
    plate = drawn()["tape guide"]
    assert place_of(plate, "FRONT").centroid.x > 8.35 > -8.35 > place_of(plate, "BACK").centroid.x  # 16.7 / 2


def test_station_numbers_stand_on_both_flanks_clear_of_the_fold():
    places = [letters(label).bounds for label in labels(drawn()["punch guide"]) if label.text == "7"]
    left, right = sorted(places)
    assert left[2] < -3 < 3 < right[0]
    assert left[1] < 139.7 - 88.9 < left[3]  # the seventh station is 88.9 from the head of a leaf of 139.7


def test_the_mitre_is_dimensioned_where_there_is_room_for_it():
    """What is left at the corner: 3 mm, in the waste beyond the cut."""
    plate = drawn()["wrap outline, front"]
    at = place_of(plate, "1/8 in -0.2 mm (3 mm)")  # 3.175 - 0.175
    assert at.centroid.x < 0
    assert at.centroid.y > 146.05


def test_a_mitre_says_in_its_waste_that_it_is_cut_last():
    """Its line is solid like that of the rectangle: x + y = sqrt(2) x 3 mm from the board's corner, the waste beyond."""
    plate = drawn()["wrap outline, front"]
    said = [letters(label) for label in labels(plate) if label.text == "after gluing"]
    corners = {
        "head": Polygon([(-25.4, 141), (-25.4, 171.45), (5, 171.45)]),
        "tail": Polygon([(-25.4, 5), (-25.4, -25.4), (5, -25.4)]),
    }
    assert len(said) == 2
    assert all(any(corner.buffer(1).covers(text) for text in said) for corner in corners.values())


def test_the_mitre_gauge_is_as_wide_as_the_mitre_and_has_a_handle_to_hold():
    parts = {part.name: part for part in mitre_gauge_layout(1.5).parts}
    assert parts["mitre gauge"].box.size.height == pytest.approx(1.5)
    handle = parts["mitre gauge handle"]
    assert not handle.closed
    assert handle.box.bottom == pytest.approx(1.5)  # on the outer edge
    assert handle.box.size.width == pytest.approx(16)
    left, eaves, ridge = handle.points[0], handle.points[1], handle.points[2]
    assert (ridge[0] - left[0], ridge[1] - eaves[1]) == pytest.approx((8, 8))  # sloped by 45 degrees like the strip's ends
    outer = parts["mitre gauge"].box  # pencil line on either side: (60 - 16) / 2
    assert (handle.box.left - outer.left, outer.right - handle.box.right) == pytest.approx((22, 22))
    # one cut goes round both: each line begins and ends where the other does, and nothing is drawn between
    strip = parts["mitre gauge"]
    assert (strip.closed, strip.points[0], strip.points[-1]) == (False, handle.points[0], handle.points[-1])
    assert Polygon([*strip.points, *reversed(handle.points)]).is_valid


def test_a_correction_is_said_on_the_scale_page():
    pack = draw_all(book(), setup_for(LETTER, Size(99.5, 100.0)))
    assert "99.5 mm across and 100 mm along" in words(pack[0])
    assert "1.0050 across" in words(pack[0])  # 100 / 99.5


# ---- what a piece keeps when it is cut out


def inside(drawing: Drawing, part: str) -> str:
    """What stands within a part of the drawing."""
    paper = Polygon(next(stroke.points for stroke in drawing.parts() if stroke.part == part))
    return " ".join(label.text for label in labels(drawing) if paper.contains(letters(label)))


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("spacer", "Spacer"),
        ("margin gauge", "Margin gauge"),
        ("tape gauge", "Tape gauge"),
        ("cover punch guide", "Cover punch guide"),
    ],
)
def test_a_small_piece_keeps_its_name_when_it_is_cut_out(title, name):
    assert name in inside(drawn()[title], title)


@pytest.mark.parametrize("make", [CHECK, NARROW], ids=["check", "narrow"])
def test_the_cover_punch_guide_shows_its_head_when_it_is_cut_out(make):
    plate = drawn(make)["cover punch guide"]
    paper = Polygon(next(stroke.points for stroke in plate.parts() if stroke.part == "cover punch guide"))
    signs = [Polygon(item.points) for item in plate.items if isinstance(item, Fill) and paper.contains(Polygon(item.points))]
    assert "HEAD" in inside(plate, "cover punch guide") or any(sign.centroid.y > 20 for sign in signs)  # a card of 30 mm


def test_a_gauge_that_is_wider_than_long_is_dimensioned_by_its_width():
    wide = replace(CHECK, tape=Size(170.0, 308.8), on_board=76.65)  # (170 - 16.7) / 2
    plate = drawn(wide)["tape gauge"]
    assert "3 1/32 in -0.3 mm (76.65 mm)" in {label.text for label in labels(plate)}  # 3.03125 x 25.4 = 76.994
    assert "Lay a short edge" in words(plate)


def test_the_fold_says_which_way_it_goes():
    fold = place_of(drawn()["punch guide"], "valley fold")
    assert fold.distance(LineString([(0, 0), (0, 139.7)])) < 5
    assert fold.bounds[1] > 139.7 - 12.7  # above the first station


def test_boards_do_not_cover_what_the_tape_guide_says():
    plate = drawn()["tape guide"]
    boards = box(-8.35 - 104.775, 0, 8.35 + 104.775, 146.05)
    sentences = [label for label in labels(plate) if "boards" in label.text.lower() and label.angle == 0]
    assert len(sentences) >= 3
    assert not [label.text for label in sentences if letters(label).intersects(boards)]


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())
@pytest.mark.parametrize("leaf", [Size(107.95, 139.7), Size(115.0, 105.0)], ids=["upright", "oblong"])
def test_all_words_read_from_below_or_from_the_right_of_the_page(paper, leaf):
    """ISO 129-1: also those of a plate that lies turned on its page, as the guide of such leaves must (2 x 115 mm)."""
    make = replace(CHECK, leaf=leaf, flank=leaf.width, places=(15.0, 50.0, 90.0))
    setup = setup_for(paper)
    placed = [spot for page in make_pages(draw_all(book(make), setup), setup, "Orchard notebook", "") for spot in page.placements]
    assert any(spot.matrix.b > 0.5 for spot in placed)
    for spot in placed:
        turned = 90 if spot.matrix.b > 0.5 else 0
        askew = [label.text for label in labels(spot.drawing) if (label.angle + turned) % 360 not in (0, 90)]
        assert not askew, (spot.drawing.title, askew)


# ---- sizes


def sizes_words(plan: Plan) -> str:
    return " ".join(words(drawing) for drawing in draw_all(plan, setup_for(LETTER)) if drawing.plate == "sizes")


def test_the_sizes_say_every_number_of_the_book():
    said = sizes_words(book())
    for phrase in (
        "10 sheets 8 1/2 × 11 in",
        "caliper 0.1 mm thickness",
        "folded sheets (folios) 20 leaves, pages 40 leaves, 80 pages",
        "1 of cover paper: 5 1/8 × 7 3/4 in",
        "Stations, from the head station on the leaf on the cover",
        "10 5 in (127 mm) 5 1/8 in (130.18 mm)",  # 127 + 3.175
        "square, fore-edge asked 1/8 in (3.18 mm); closed 7/32 in -0.1 mm (5.5 mm)",
        "square asked 1/8 in (3.18 mm) square closed 7/32 in -0.1 mm (5.5 mm)",
        "mitre 3 mm cover.mitre",
        "20 folios in one section spring open. Better: press it overnight and measure it. [text_block.folios]",
        "24 31/32 in -0.2 mm (634 mm)",  # 24.96875 x 25.4 = 634.206
        "31 3/16 in +0.3 mm (792.5 mm)",  # 31.1875 x 25.4 = 792.1625
        "write this into [measured] before any board is cut",
        "spring open",
        "cover.mitre",
        "not to scale",
        "signature",
        "miter",
        "Not a paste-down",
        "A length such as 1 1/4 in +0.3 mm is 1 1/4 inches and 0.3 mm more",
    ):
        assert " ".join(phrase.split()) in said, phrase


def test_the_words_on_the_sizes_page_are_those_of_this_book():
    said = sizes_words(book())
    assert "book tape" in said
    assert "accordion" not in said
    assert "sewing tape" not in said


def test_provisional_sizes_are_marked():
    said = sizes_words(book())
    assert "boards apart *" in said
    assert "tape on each board *" in said
    assert "front covering *" in said
    assert "front lining *" not in said
    assert "board width *" not in said


def test_there_are_three_lines_to_write_measurements_on():
    first = drawn()["sizes"]
    lines = [
        item
        for item in first.items
        if isinstance(item, Stroke) and item.line == "thin" and item.points[1][0] - item.points[0][0] > 40
    ]
    assert len([line for line in lines if line.points[0][1] > 120]) == 3


def test_sizes_fill_whole_pages_and_run_on():
    plan = book()
    long = replace(plan, warnings=plan.warnings * 120)
    for one in (plan, long):
        pages = [drawing for drawing in draw_all(one, setup_for(A4)) if drawing.plate == "sizes"]
        assert all(page.whole_page and page.box.left == page.box.bottom == 0 for page in pages)
        assert [page.title for page in pages[:2]] == ["sizes", "sizes, 2"]
    assert len(pages) > 2


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("thick", ["0.4 mm", "13.37 mm"])
def test_sketches_stay_on_the_narrowest_page(units, thick):
    """118 mm without a margin is the narrowest paper that takes the bars: 107 mm beside the bar along."""
    plan = planned({"units": units, "cover.square": "3.37 mm", "cover.joint": "7.7 mm", "measured.thickness": thick})
    pages = [drawing for drawing in draw_all(plan, PageSetup(Size(118.0, 260.0), 0.0)) if drawing.plate == "sizes"]
    assert "The cover laid open" in " ".join(map(words, pages))
    for drawing in pages:
        for one, other in combinations(labels(drawing), 2):
            assert not letters(one).intersects(letters(other)), (one.text, other.text)
        for label in labels(drawing):
            assert -1e-6 <= letters(label).bounds[0] <= letters(label).bounds[2] <= 107 + 1e-6, label.text
            struck = [line_of(item) for item in drawing.items if isinstance(item, Stroke)]
            assert not any(line.intersects(letters(label)) for line in struck), label.text


def test_sketches_are_no_templates():
    assert not any(list(drawing.parts()) for drawing in draw_all(book(), setup_for(LETTER)) if drawing.plate == "sizes")
