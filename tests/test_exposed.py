"""The exposed spine: sizes typed by hand beside their sums, outlines and folded corners judged by another geometry library."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Point, box
from shapely.ops import unary_union

import handbook as h
from bookplates.book.record import Plan
from bookplates.handout.steps import steps
from bookplates.kinds.parts import Layout
from bookplates.papers.printing import PageSetup
from bookplates.plates import cover_punch_guide, lining_outline
from bookplates.plates.drawing import Label
from check_book import A4
from shapes import assert_true_outline, planned, polygon, refusals, warnings

FACES = ("front", "back")
SETUP = PageSetup(A4, 6.35)

# A ledger of rock pools: leaves 100 x 150 mm, 24 folios of 0.1 mm in three sections, 6 mm thick as a ruler found them
LEDGER: dict[str, Any] = {
    "title": "Rock pool ledger",
    "text_block.leaf": "100 x 150 mm",
    "text_block.folios": 24,
    "text_block.sections": 3,
    "text_block.caliper": "0.1 mm",
    "measured.width": "100 mm",
    "measured.thickness": "6 mm",
    "cover.style": "exposed",
    "sewing.stations": [20, 55, 95, 130],
}


def mm(inches: Fraction) -> float:
    return float(inches) * 25.4


def bound(changes: dict[str, Any] | None = None) -> Plan:
    return planned(changes, LEDGER)


def layout_of(made: Plan, plate: str, title: str = "") -> Layout:
    (layout,) = (layout for layout in made.layouts_of(plate) if layout.title == title)
    return layout


class TestSizes:
    def test_flat_board(self):
        """Bean & Brodhead, Problem II: 1/2 in larger on each side, lining 1/8 to 1/16 in smaller (handbook TI7, TI8, E5)."""
        # leaf 3 7/8 x 5 3/4 in, squares 1/8: board 4 x 6
        leaf = [mm(Fraction(31, 8)), mm(Fraction(23, 4))]
        changes = {"text_block.leaf": leaf, "measured.width": leaf[0], "cover.turn_in": mm(Fraction(1, 2))}
        made = bound({**changes, "cover.lining_margin": mm(Fraction(1, 8))})
        assert (made.cover.board_width, made.cover.board_height) == pytest.approx(tuple(map(mm, h.E5_BOARD_IN)))
        for face in FACES:
            paper, lining = made.piece(f"{face} covering"), made.piece(f"{face} lining")
            assert (paper.width, paper.height) == pytest.approx(tuple(map(mm, h.E5_COVERING_IN)))
            assert (lining.width, lining.height) == pytest.approx(tuple(map(mm, h.E5_LINING_LEAST_IN)))
        lining = bound({**changes, "cover.lining_margin": mm(Fraction(1, 16))}).piece("front lining")
        assert (lining.width, lining.height) == pytest.approx(tuple(map(mm, h.E5_LINING_MOST_IN)))

    def test_usual_values(self):
        """Vaughn's turn-in, Bean & Brodhead's square and lining margin (handbook TI1, SQ3, TI11)."""
        cover = bound().cover
        turn_ins = [cover.turn_in_head, cover.turn_in_tail, cover.turn_in_fore_edge]
        assert turn_ins == pytest.approx([mm(h.TI1_TURN_IN_IN)] * 3)
        squares = [cover.square_head, cover.square_tail, cover.square_fore_edge]
        assert squares == pytest.approx([mm(h.SQ3_SQUARE_IN)] * 3)
        assert cover.lining_margin == pytest.approx(mm(h.TI11_LINING_MARGIN_IN))
        assert bound().sewing.pattern == "link"

    def test_by_hand(self):
        square, turn_in = {"head": 2, "tail": 5, "fore_edge": 4}, {"head": 15, "tail": 20, "fore_edge": 18}
        made = bound({"cover.square": square, "cover.turn_in": turn_in, "cover.lining_margin": 5})
        cover = made.cover
        assert (cover.board_width, cover.board_height) == pytest.approx((104, 157))  # 100 + 4; 150 + 2 + 5
        paper = made.piece("back covering")
        assert (paper.width, paper.height) == pytest.approx((140, 192))  # 104 + 2 x 18; 157 + 15 + 20
        lining = made.piece("back lining")
        assert (lining.width, lining.height) == pytest.approx((94, 147))  # 104 - 2 x 5; 157 - 2 x 5
        place = layout_of(made, "wrap outline", "back").part("back board place").box
        assert tuple(place) == pytest.approx((18, 20, 122, 177))
        assert cover.open_width == pytest.approx(214)  # 2 x 104 + 6
        assert made.sewing.cover_stations == pytest.approx((22, 57, 97, 132))

    def test_what_it_has_none_of(self):
        cover = bound().cover
        nothing = ("boards_apart", "joint", "gap", "spine_piece_width", "closed_square", "flap", "hinge")
        assert {getattr(cover, name) for name in nothing} == {None}

    @settings(deadline=None, derandomize=True, max_examples=40)
    @given(st.floats(80, 300), st.floats(1, 30), st.floats(0, 9))
    def test_open_width(self, width, thick, square):
        """An identity: laid open the book is two leaves, two squares and the thickness wide."""
        measured = {"measured.width": width, "measured.thickness": thick}
        made = bound({"text_block.leaf": [width, 150], **measured, "cover.square": square})
        assert made.cover.open_width == pytest.approx(2 * (width + square) + thick)

    def test_front_and_back_are_alike_and_the_back_is_no_mirror_image(self):
        """Paper turned in alike at the spine edge and the fore-edge is the same for both boards, whatever head and tail have."""
        made = bound({"cover.turn_in": {"head": 15, "tail": 20, "fore_edge": 18}})
        assert made.piece("front covering").outline == made.piece("back covering").outline
        assert [piece.name for piece in made.pieces] == [
            "text sheet", "front board", "back board", "front covering", "back covering", "front lining", "back lining",
        ]  # fmt: skip


class TestCorners:
    def test_corners_by_hand(self):
        # board 103.175 x 156.35, turn-ins 15, mitre 3: legs 2 x 15 - 3 x 1.414214 = 25.757359 cut off each of four corners;
        # the paper is 133.175 x 186.35
        outline = bound({"cover.turn_in": 15}).piece("front covering").outline
        leg = h.E15_LEG_MM
        expected = (
            (leg, 0), (133.175 - leg, 0), (133.175, leg), (133.175, 186.35 - leg),
            (133.175 - leg, 186.35), (leg, 186.35), (0, 186.35 - leg), (0, leg),
        )  # fmt: skip
        for found, corner in zip(outline, expected, strict=True):
            assert found == pytest.approx(corner, abs=1e-3)

    def test_every_cut_is_square_to_its_corner(self):
        made = bound({"cover.turn_in": {"head": 14, "tail": 22, "fore_edge": 31}, "cover.mitre": 3.5})
        place = layout_of(made, "wrap outline", "front").part("front board place").box
        edge = LineString([*made.piece("front covering").outline, made.piece("front covering").outline[0]])
        assert [edge.distance(Point(at)) for at in place.corners] == pytest.approx([3.5] * 4)

    def test_square_corners_are_drawn_before_the_mitres(self):
        made = bound({"cover.turn_in": {"head": 15, "tail": 20, "fore_edge": 18}})
        layout = layout_of(made, "wrap outline", "front")
        corners = [part for part in layout.parts if part.name.endswith("corner")]
        whole = unary_union([polygon(made.piece("front covering").outline), *(polygon(part.points) for part in corners)])
        assert len(corners) == 4
        assert whole.symmetric_difference(box(*whole.bounds)).area == pytest.approx(0, abs=1e-6)

    @pytest.mark.parametrize(("by", "bare"), [(-0.05, False), (0.05, True)])
    @pytest.mark.parametrize("turn_in", [(15, 15, 15), (12, 20, 25), (20, 25, 12)])
    def test_lining_and_turn_ins_leave_no_board_bare(self, turn_in, by, bare):
        """Folded over a board of 2 mm on all four sides, paper and lining leave bare board from just the margin refused."""
        changes = {"cover.turn_in": dict(zip(("head", "tail", "fore_edge"), turn_in, strict=True)), "cover.mitre": 3}
        made = bound({**changes, "cover.lining_margin": 1})
        _, tail, side = turn_in
        paper = affine_transform(polygon(made.piece("front covering").outline), (1, 0, 0, 1, -side, -tail))
        wide, high, thick, far = made.cover.board_width, made.cover.board_height, 2.0, 1000.0
        flaps = (  # what lies beyond an edge and the board's thickness comes to lie mirrored on the inside
            (box(-far, high + thick, far, far), (1, 0, 0, -1, 0, 2 * high + thick)),
            (box(-far, -far, far, -thick), (1, 0, 0, -1, 0, -thick)),
            (box(wide + thick, -far, far, far), (-1, 0, 0, 1, 2 * wide + thick, 0)),
            (box(-far, -far, -thick, far), (-1, 0, 0, 1, -thick, 0)),
        )
        inside = [affine_transform(paper.intersection(beyond), turned) for beyond, turned in flaps]
        margin = min(turn_in) - thick + by
        lining = box(margin, margin, wide - margin, high - margin)
        seen = box(0, 0, wide, high).difference(unary_union([*inside, lining])).area
        assert (seen > 1e-6) == bare
        assert ("cover.lining_margin" in refusals({**changes, "cover.lining_margin": margin}, LEDGER)) == bare


class TestTemplates:
    def test_lining_is_inset_on_all_four_sides(self):
        made = bound({"cover.lining_margin": 5})
        layout = layout_of(made, "lining outline")
        board, lining = layout.part("front board place").box, layout.part("front lining").box
        between = (lining.left - board.left, board.right - lining.right, lining.bottom - board.bottom, board.top - lining.top)
        assert between == pytest.approx((5, 5, 5, 5))
        assert layout_of(made, "lining outline", "margin gauge").part("margin gauge").box.size.width == pytest.approx(5)

    def test_the_plate_tells_of_all_four_sides(self):
        said = {drawing.title: _words(drawing) for drawing in lining_outline.draw(bound(), SETUP)}
        assert "all four sides" in said["lining outline"]
        assert "Flush at the spine edge" not in said["lining outline"]
        assert "head, tail, spine edge and fore-edge" in said["margin gauge"]

    def test_a_taped_book_still_tells_of_three(self):
        taped = {"cover.style": "taped", "text_block.sections": 1, "sewing.pattern": "chain"}
        said = {drawing.title: _words(drawing) for drawing in lining_outline.draw(bound(taped), SETUP)}
        assert "Flush at the spine edge" in said["lining outline"]
        assert "at head, tail and fore-edge" in said["margin gauge"]

    @pytest.mark.parametrize(("opening", "way"), [("left", 1), ("right", -1)])
    def test_cover_punch_guide(self, opening, way):
        """Outside up: the edge at x = 0 goes to the spine edge, at the left of a book whose spine is at the left."""
        made = bound({"text_block.opening": opening, "sewing.board_inset": 9, "cover.square": 3})
        layout = layout_of(made, "cover punch guide")
        strip = layout.part("cover punch guide").box
        assert (strip.bottom, strip.top) == pytest.approx((0, 156))  # 150 + 2 x 3
        assert (strip.left if way > 0 else strip.right) == pytest.approx(0)
        assert layout.part("spine edge place").points == ((0, 0), (0, 156))
        middles = [part.box.middle for part in layout.named("station ")]
        assert middles == [pytest.approx((way * 9, 156 - place)) for place in (23, 58, 98, 133)]
        assert layout.use[0] == "FRONT BOARD OUTSIDE UP."

    def test_the_strip_is_no_wider_than_the_board(self):
        made = bound({"sewing.board_inset": 90})
        strip = layout_of(made, "cover punch guide").part("cover punch guide").box.size
        assert strip.width == pytest.approx(103.175)

    def test_the_plate_names_the_spine_edge(self):
        for opening, at_left in (("left", True), ("right", False)):
            (plate,) = cover_punch_guide.draw(bound({"text_block.opening": opening}), SETUP)
            strip = next(stroke for stroke in plate.parts() if stroke.part == "cover punch guide")
            middle = polygon(strip.points).centroid.x
            (label,) = (item for item in plate.items if isinstance(item, Label) and item.text == "spine edge")
            assert (label.at[0] < middle) == at_left
            assert "outside up" in _words(plate)
            assert "groove" not in _words(plate)


def _words(drawing: Any) -> str:
    return " ".join(item.text for item in drawing.items if isinstance(item, Label))


class TestFindings:
    @pytest.mark.parametrize("inset", ["2 mm", "2.9 mm", "0.2 mm"])
    def test_holes_that_tear_out(self, inset):
        assert "sewing.board_inset" in refusals({"sewing.board_inset": inset}, LEDGER)

    def test_the_least_inset_works(self):
        assert "sewing.board_inset" not in refusals({"sewing.board_inset": "3 mm"}, LEDGER)

    def test_holes_past_the_fore_edge(self):
        hint = refusals({"sewing.board_inset": 102}, LEDGER)["sewing.board_inset"].hint
        assert "100.17 mm" in hint  # board 100 + 3.175, less 3
        assert "sewing.board_inset" not in refusals({"sewing.board_inset": "100.17 mm"}, LEDGER)

    @pytest.mark.parametrize(("inset", "said"), [(4, True), (5.17, True), (5.18, False), (10, False)])
    def test_holes_on_the_edge_of_the_lining(self, inset, said):
        # margin 3.175, hole 1 mm and 1 mm more: clear from 5.175
        found = warnings({"sewing.board_inset": inset}, LEDGER)
        assert ("sewing.board_inset" in found) == said
        if said:
            assert "5.18 mm" in found["sewing.board_inset"].hint

    def test_holes_on_the_head_edge_of_the_lining(self):
        # first station 5 + 3.175 = 8.175 below the head of the board, margin 8: 0.175 apart; 6.175 is clear, said as 6.17
        changes = {"sewing.stations": [5, 75, 130], "sewing.board_inset": 15}
        assert "6.17 mm" in warnings({**changes, "cover.lining_margin": 8}, LEDGER)["cover.lining_margin"].hint
        assert "cover.lining_margin" not in warnings({**changes, "cover.lining_margin": "6.17 mm"}, LEDGER)

    @pytest.mark.parametrize(("turn_in", "refused"), [(45, False), (60, True)])
    def test_cuts_of_a_narrow_board_cross(self, turn_in, refused):
        # leaf 80 wide, board 83.175: at head and tail 83.175 + 2 x 4.242641 - 2 t is left between the cuts: 1.66 and -28.3
        changes = {"text_block.leaf": "80 x 250 mm", "measured.width": "80 mm", "cover.turn_in": turn_in}
        assert ("cover.turn_in" in refusals(changes, LEDGER)) == refused

    def test_side_turn_ins_that_meet(self):
        # board 83.175 wide: 2 x (44 - 2) = 84 reaches over it, 2 x (43 - 2) = 82 does not
        changes = {"text_block.leaf": "80 x 250 mm", "measured.width": "80 mm"}
        assert "meet" in warnings({**changes, "cover.turn_in": 44}, LEDGER)["cover.turn_in"].what
        assert "cover.turn_in" not in warnings({**changes, "cover.turn_in": 43}, LEDGER)

    @pytest.mark.parametrize("key", ["joint", "gap", "spine_piece", "flap", "hinge", "overlap"])
    def test_keys_it_has_not(self, key):
        assert f"cover.{key}" in refusals({f"cover.{key}": 5}, LEDGER)

    def test_thick_board_with_little_turn_in(self):
        assert "cover.mitre" in refusals({"cover.mitre": 1}, LEDGER)
        assert "cover.lining_margin" in refusals({"cover.turn_in": 5, "cover.lining_margin": 4}, LEDGER)


class TestWork:
    def test_order(self):
        titles = [step.title for step in steps(bound())]
        own = ["Cut the boards", "Cut and glue the coverings", "Mitre and turn in", "Line the boards", "Pierce the boards"]
        assert [title for title in titles if title in own] == own
        (pierce,) = (step for step in steps(bound()) if step.title == "Pierce the boards")
        assert pierce.picture == "pierce boards"
        assert "Drill:" in pierce.caution
        assert "trained" in pierce.caution

    def test_the_front_board_lies_lowest(self):
        """Front board, inside up, spine edge towards the sewer: its head is then at her right, for a spine at the left."""
        said = " ".join(bound().laid_in)
        assert "front board on the table, outside down" in said
        assert "head at your right" in said
        assert "head at your left" in " ".join(bound({"text_block.opening": "right"}).laid_in)

    def test_no_clips_that_nobody_put_on(self):
        said = " ".join(sentence for step in steps(bound()) if step.title == "Press the book" for sentence in step.sentences)
        assert "clips" not in said

    def test_sizes_that_hang_on_the_block(self):
        names = planned({"measured.width": None, "measured.thickness": None}, LEDGER).provisional
        assert {"board width", "covering width", "lining width"} <= set(names)
        assert "board width" not in bound().provisional


def _sides(least: float, most: float) -> st.SearchStrategy[dict[str, float]]:
    return st.fixed_dictionaries({side: st.floats(least, most) for side in ("head", "tail", "fore_edge")})


KEYS = st.fixed_dictionaries(
    {
        "text_block.opening": st.sampled_from(["left", "right"]),
        "cover.board": st.floats(0.5, 4),
        "cover.square": _sides(0, 9),
        "cover.turn_in": _sides(12, 35),
        "cover.lining_margin": st.floats(0, 5),
        "sewing.board_inset": st.floats(8, 30),
    }
)


@settings(deadline=None, derandomize=True, max_examples=60)
@given(st.floats(90, 250), st.floats(100, 300), KEYS)
def test_every_outline_is_true(width, height, keys):
    leaf = {"text_block.leaf": [width, height], "measured.width": width, "sewing.stations": None}
    made = bound({**leaf, **keys})
    for piece in made.pieces:
        assert_true_outline(piece.outline)
        if "covering" not in piece.name:
            assert polygon(piece.outline).area == pytest.approx(piece.width * piece.height)
    head, tail, side = (keys["cover.turn_in"][name] for name in ("head", "tail", "fore_edge"))
    reach = math.sqrt(2) * 1.5 * keys["cover.board"]
    legs = 2 * [side + head - reach, side + tail - reach]
    paper = made.piece("front covering")
    assert polygon(paper.outline).area == pytest.approx(paper.width * paper.height - sum(leg**2 for leg in legs) / 2)
    guide = layout_of(made, "cover punch guide")
    strip = polygon(guide.part("cover punch guide").points)
    assert strip.exterior.is_ccw
    assert all(strip.contains(polygon(part.points)) for part in guide.named("station "))
