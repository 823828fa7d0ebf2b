"""The taped cover: sizes typed by hand beside their sums, outlines judged by another geometry library, corners folded."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

import handbook as h
from bookplates.book.record import Plan
from bookplates.geometry import Outline, Size
from bookplates.kinds import corner
from bookplates.kinds.keys import TurnIns
from shapes import ORCHARD, assert_true_outline, planned, polygon, refusals, warnings

FACES = ("front", "back")


def mm(inches: Fraction) -> float:
    return float(inches) * 25.4


def book(width: float, height: float, thickness: float, **cover: Any) -> Plan:
    """A block as a ruler found it, mm, in a taped cover."""
    measured = {"measured.width": width, "measured.height": height, "measured.thickness": thickness}
    leaf = {"text_block.leaf": [width, height]}
    return planned({**leaf, **measured, "tape.width": 200, **{f"cover.{key}": value for key, value in cover.items()}})


class TestBoards:
    def test_vaughn(self):
        """Vaughn: board as wide as the book, joint as wide as the square (handbook SQ1, SQ2, JT1, worked as E1)."""
        width, height, thick = map(mm, h.E1_BOOK_IN)
        made = book(width, height, thick, square=mm(h.E1_SQUARE_IN), joint=mm(h.E1_JOINT_IN), turn_in=mm(h.TI1_TURN_IN_IN))
        cover = made.cover
        assert (cover.board_width, cover.board_height) == pytest.approx(tuple(map(mm, h.E1_BOARD_IN)), abs=0.01)
        assert cover.boards_apart == pytest.approx(mm(h.E1_BOARDS_APART_IN), abs=0.01)
        # each board's back edge from the middle of the cover: 3/8 + 1/8 = 1/2 in (handbook JT2)
        assert _x(made, "tape guide", "front board edge") == pytest.approx(12.7, abs=0.01)
        assert cover.open_width == pytest.approx(mm(Fraction(11)), abs=0.01)  # 2 x 5 + 1
        # Vaughn's whole covering has the same height and would be 11 + 2 x 3/4 wide; ours are two, each to its board's edge
        front = made.piece("front covering")
        assert front.height == pytest.approx(mm(h.E1_COVERING_IN[1]), abs=0.01)
        assert 2 * front.width + cover.boards_apart == pytest.approx(mm(h.E1_COVERING_IN[0]), abs=0.01)

    def test_brighton(self):
        """Brighton: board 2 mm narrower and 6 mm taller than the page, overhang 3 mm, gap 5 mm (handbook SQ8, E3)."""
        cover = book(*h.E3_PAGE_MM, h.E3_BLOCK_MM, square=h.SQ8_SQUARE_MM, joint=h.SQ8_JOINT_MM).cover
        assert (cover.board_width, cover.board_height) == pytest.approx(h.E3_BOARD_MM, abs=0.01)
        assert cover.boards_apart == pytest.approx(25)  # 15 + 2 x 5

    def test_half_cloth_book(self):
        """Vaughn: boards as wide as the book, 3/8 in longer, joint 3/16 in (handbook SQ13, worked as E2)."""
        cover = book(*map(mm, h.E2_BOOK_IN), square=mm(Fraction(3, 16)), joint=mm(h.E2_JOINT_IN)).cover
        assert (cover.board_width, cover.board_height) == pytest.approx(tuple(map(mm, h.E2_BOARD_IN)), abs=0.01)
        assert cover.boards_apart / 2 == pytest.approx(mm(h.E2_FROM_CENTRE_IN), abs=0.01)

    def test_unequal_squares(self):
        cover = book(100, 150, 2, square={"head": 2, "tail": 5, "fore_edge": 4}, joint=6).cover
        assert (cover.board_width, cover.board_height) == pytest.approx((98, 157))  # 100 + 4 - 6; 150 + 2 + 5

    @settings(deadline=None, derandomize=True, max_examples=60)
    @given(st.floats(80, 300), st.floats(0.5, 30), st.floats(0, 9), st.floats(0, 9))
    def test_open_width(self, width, thick, square, joint):
        """An identity: whatever the joint, the cover laid open is two leaves, two squares and the thickness wide."""
        made = book(width, 150, thick, square=square, joint=joint)
        assert made.cover.open_width == pytest.approx(2 * (width + square) + thick)

    def test_gap(self):
        cover = book(100, 150, 4, joint=None, gap=16).cover
        assert cover.boards_apart == pytest.approx(16)
        assert cover.joint == pytest.approx(6)  # (16 - 4) / 2
        assert cover.gap == 16
        assert cover.board_width == pytest.approx(97.175)  # 100 + 3.175 - 6

    def test_one_outline_serves_both_boards(self):
        made = book(100, 150, 2, square=3, joint=6)
        (layout,) = made.layouts_of("board outline")
        assert layout.copies == 2
        assert layout.part("front board").box.size == pytest.approx((97, 156))  # 100 + 3 - 6; 150 + 6

    def test_no_gap_is_null(self):
        assert planned().cover.gap is None

    @pytest.mark.parametrize(
        ("fold", "square"),
        [
            ("sharp", 4.346573),  # 3.175 + 4 x (1 - 1.414214 / 2) = 3.175 + 4 x 0.292893
            ("round", 4.033407),  # 3.175 + 4 x (1 - 1.570796 / 2) = 3.175 + 4 x 0.214602
        ],
    )
    def test_square_of_the_closed_book(self, fold, square):
        made = planned({"text_block.fold": fold, "measured.thickness": "4 mm", "text_block.folios": 20})
        assert made.cover.closed_square == pytest.approx(square, abs=1e-5)


class TestCoveringsAndLinings:
    def test_flat_board(self):
        """Bean & Brodhead: 1/2 in larger on each side, so 4 x 6 in takes 5 x 7 (handbook TI7, E5); ours is flush at the spine."""
        # leaf 4 x 5 3/4, square 1/8, joint 1/8: board 4 x 6
        made = book(
            101.6,
            146.05,
            2,
            square=mm(Fraction(1, 8)),
            joint=mm(Fraction(1, 8)),
            turn_in=mm(Fraction(1, 2)),
            lining_margin=mm(Fraction(1, 8)),
        )
        assert (made.cover.board_width, made.cover.board_height) == pytest.approx(tuple(map(mm, h.E5_BOARD_IN)), abs=0.01)
        paper, lining = made.piece("front covering"), made.piece("front lining")
        assert paper.width == pytest.approx(mm(h.E5_COVERING_IN[0] - Fraction(1, 2)), abs=0.01)
        assert paper.height == pytest.approx(mm(h.E5_COVERING_IN[1]), abs=0.01)
        assert lining.width == pytest.approx(mm(h.E5_LINING_LEAST_IN[0] + Fraction(1, 8)), abs=0.01)
        assert lining.height == pytest.approx(mm(h.E5_LINING_LEAST_IN[1]), abs=0.01)

    def test_unequal_turn_ins(self):
        made = book(100, 150, 2, square=3, joint=6, turn_in={"head": 15, "tail": 20, "fore_edge": 18}, lining_margin=5)
        paper = made.piece("back covering")
        assert (paper.width, paper.height) == pytest.approx((115, 191))  # 97 + 18; 156 + 15 + 20
        place = _part(made, "wrap outline", "back board place").box
        assert (place.left, place.bottom, place.right, place.top) == pytest.approx((0, 20, 97, 176))
        front = _part(made, "wrap outline", "front board place").box
        assert (front.left, front.bottom, front.right, front.top) == pytest.approx((18, 20, 115, 176))

    def test_corners_by_hand(self):
        # board 97 x 156, turn-ins 15, 20, 18, mitre 3: 3 x 1.414214 = 4.242641. The cuts meet tail and head at
        # 97 + 4.242641 - 20 = 81.242641 and 97 + 4.242641 - 15 = 86.242641, the fore-edge at
        # 20 + 18 - 4.242641 = 33.757359 and 20 + 156 + 4.242641 - 18 = 162.242641
        made = book(100, 150, 2, square=3, joint=6, turn_in={"head": 15, "tail": 20, "fore_edge": 18}, lining_margin=5)
        back = ((0, 0), (81.242641, 0), (115, 33.757359), (115, 162.242641), (86.242641, 191), (0, 191))
        front = ((33.757359, 0), (115, 0), (115, 191), (28.757359, 191), (0, 162.242641), (0, 33.757359))
        for name, points in (("back covering", back), ("front covering", front)):
            for found, expected in zip(made.piece(name).outline, points, strict=True):
                assert found == pytest.approx(expected, abs=1e-5)

    def test_brighton_corner(self):
        """Vaughn's clearance and Brighton's 3 mm on a 2 mm board: the leg cut off each edge (handbook TI20, TI21, E15)."""
        made = planned({"cover.turn_in": h.E15_TURN_IN_MM, "cover.mitre": h.E15_MITRE_MM, "cover.lining_margin": 5})
        paper = made.piece("back covering")
        legs = [
            paper.width - paper.outline[1][0],
            paper.outline[2][1],
            paper.height - paper.outline[3][1],
            paper.width - paper.outline[4][0],
        ]
        assert legs == pytest.approx([h.E15_LEG_MM] * 4, abs=0.001)

    def test_square_corners_are_drawn_before_the_mitre(self):
        made = planned()
        for face in FACES:
            papers = polygon(made.piece(f"{face} covering").outline)
            extra = [Polygon(_part(made, "wrap outline", f"{face} {end} corner").points) for end in ("head", "tail")]
            whole = papers.union(extra[0]).union(extra[1])
            assert whole.symmetric_difference(box(*papers.bounds)).area == pytest.approx(0, abs=1e-6)

    def test_linings_lie_flush_at_the_spine(self):
        made = planned()  # board 96.825 x 156.35; margin 9.525: lining 87.3 x 137.3
        assert (made.piece("front lining").width, made.piece("front lining").height) == pytest.approx((87.3, 137.3))
        lining = _part(made, "lining outline", "front lining").box
        assert (lining.left, lining.bottom, lining.right, lining.top) == pytest.approx((9.525, 9.525, 96.825, 146.825))

    def test_the_usual_mitre(self):
        made = planned({"cover.board": 3})
        assert made.cover.mitre == pytest.approx(4.5)  # 1.5 x 3
        assert "cover.mitre" in [default.where for default in made.defaults]


class TestOpening:
    def test_front_has_its_spine_edge_at_the_right(self):
        made = planned({"cover.turn_in": {"fore_edge": "20 mm"}})
        assert _part(made, "wrap outline", "front board place").box.right == pytest.approx(made.piece("front covering").width)
        assert _part(made, "wrap outline", "back board place").box.left == 0

    def test_right_changes_front_and_back(self):
        left, right = planned(), planned({"text_block.opening": "right"})
        assert right.piece("front covering").outline == left.piece("back covering").outline
        assert right.piece("back covering").outline == left.piece("front covering").outline
        assert _part(right, "lining outline", "front lining").box.left == 0
        for plate in ("tape guide", "cover punch guide"):
            for edge in ("front board edge", "back board edge"):
                assert _x(right, plate, edge) == -_x(left, plate, edge)

    def test_front_and_back_mirror_each_other(self):
        made = planned({"cover.turn_in": {"head": "20 mm", "tail": "22 mm"}})
        front, back = (polygon(made.piece(f"{face} covering").outline) for face in FACES)
        turned = affine_transform(front, (-1, 0, 0, 1, made.piece("front covering").width, 0))
        assert turned.symmetric_difference(back).area == pytest.approx(0, abs=1e-6)
        assert front.symmetric_difference(back).area > 100

    def test_the_guides_lie_as_they_are_used(self):
        made = planned()
        assert _x(made, "tape guide", "front board edge") > 0  # outside up
        assert _x(made, "cover punch guide", "front board edge") < 0  # inside up


def _part(made: Plan, plate: str, name: str) -> Any:
    (part,) = (part for layout in made.layouts_of(plate) for part in layout.parts if part.name == name)
    return part


def _x(made: Plan, plate: str, name: str) -> float:
    return _part(made, plate, name).points[0][0]


class TestTape:
    def test_full(self):
        made = planned({"tape.overlap": "10 mm"})
        tape = made.tape
        assert tape.width == 101.6
        assert tape.length == pytest.approx(326.7)  # 2 x 156.35 + 2 x 2 + 10
        assert tape.on_board == pytest.approx(43.65)  # (101.6 - (1.6 + 12.7)) / 2
        assert tape.guide_offset == pytest.approx(50.8)
        assert tape.hang_head + 156.35 + tape.hang_tail == pytest.approx(tape.length)
        assert tape.overlap == 10

    def test_the_ends_overlap_clear_of_the_stations(self):
        made = planned()  # the last station is 156.35 - (132.15 + 3.175) = 21.025 above the board's tail
        tape = made.tape
        assert tape.overlap_from_tail > 0
        assert tape.overlap_from_tail + tape.overlap < 21.025
        # what hangs at the tail goes round the board and up to the overlap's far end, what hangs at the head down to its near end
        assert tape.hang_tail == pytest.approx(2 + tape.overlap_from_tail + tape.overlap)
        assert tape.hang_head == pytest.approx(2 + 156.35 - tape.overlap_from_tail)

    @pytest.mark.parametrize(("margin", "from_tail"), [("12.7 mm", 1.5875), ("40 mm", 5.0)])
    def test_the_ends_overlap_near_the_tail_however_far_the_last_station_is(self, margin, from_tail):
        # Square 3.175; overlap 12.7. Half of (12.7 + 3.175 - 12.7) = 1.5875; half of (40 + 3.175 - 12.7) = 15.2 is too far:
        # 5 mm, common practice, no source.
        changes = {"sewing.pattern": "pamphlet", "sewing.spacing": None, "sewing.count": 3, "sewing.end_margin": margin}
        made = planned({**changes, "text_block.sheets": 3}, ORCHARD)
        assert made.tape.overlap_from_tail == pytest.approx(from_tail)
        assert made.tape.hang_tail == pytest.approx(2 + from_tail + 12.7)

    def test_turn_in(self):
        made = planned({"tape.inside": "turn-in", "tape.turn_in": "20 mm", "tape.overlap": "15 mm"})
        assert made.tape.length == pytest.approx(200.35)  # 156.35 + 2 x 2 + 2 x 20
        assert (made.tape.hang_head, made.tape.hang_tail) == pytest.approx((22, 22))
        assert (made.tape.overlap, made.tape.overlap_from_tail) == (None, None)
        strip = made.piece("inner strip")
        assert strip.width == pytest.approx(44.3)  # 14.3 + 2 x 15
        # Bean & Brodhead, Problem XII: about 1/8 in shorter than the board (handbook TI10)
        assert strip.height == pytest.approx(156.35 - mm(h.TI10_INNER_SHORTER_IN))

    def test_full_needs_no_inner_strip(self):
        assert [piece.name for piece in planned().pieces] == [
            "text sheet", "front board", "back board", "front covering", "back covering", "front lining", "back lining", "tape",
        ]  # fmt: skip

    def test_guide(self):
        made = planned()
        for name in ("front board edge", "front tape edge", "spine centre"):
            low, high = (point[1] for point in _part(made, "tape guide", name).points)
            assert (low, high) == pytest.approx((-25, 181.35))  # 25 mm beyond head and tail: 156.35 + 25
        assert _x(made, "tape guide", "front tape edge") - _x(made, "tape guide", "front board edge") == pytest.approx(43.65)
        gauge = _part(made, "tape guide", "tape gauge").box.size
        assert gauge.width == pytest.approx(43.65)
        assert _part(made, "spacer", "spacer").box.size.width == pytest.approx(14.3)

    def test_cover_punch_guide_drops_into_the_groove(self):
        made = planned()
        card = _part(made, "cover punch guide", "cover punch guide").box.size
        assert card == pytest.approx((13.3, 156.35))  # 14.3 - 1
        hole = _part(made, "cover punch guide", "station 1").box
        assert hole.middle == pytest.approx((0, 156.35 - made.sewing.cover_stations[0]))


# boards apart 14.3 = 1.6 + 12.7, so a tape of 26.3 lies on 6 of each board, and 65.1 on 25.4
class TestLimits:
    @pytest.mark.parametrize(("width", "refused"), [(26.3, False), (26.29, True), (14, True)])
    def test_tape_holds_six_millimetres(self, width, refused):
        assert ("tape.width" in refusals({"tape.width": width})) == refused

    @pytest.mark.parametrize(("width", "warned"), [(65.1, False), (65.09, True), (26.3, True), (207.9, False), (208, True)])
    def test_tape_holds_an_inch(self, width, warned):
        """Bean & Brodhead, Problem XII: at least 1 in on each cover (handbook TI10). Over 14.3 + 2 x 96.825 it hangs over."""
        assert ("tape.width" in warnings({"tape.width": width})) == warned

    @pytest.mark.parametrize(("gap", "refused"), [(1.6, False), (1.59, True), (0, True)])
    def test_gap_holds_the_block(self, gap, refused):
        assert ("cover.gap" in refusals({"cover.gap": gap, "cover.board": 1})) == refused

    @pytest.mark.parametrize(
        ("board", "joint", "warned"),
        [(2, 4, False), (2, 3.99, True), (1.5, 0, False), (1.51, 3, True), (3.2, 6.35, True), (3.17, 6.35, False)],
    )
    def test_boards_bind_in_a_joint_under_twice_their_thickness(self, board, joint, warned):
        assert ("cover.joint" in warnings({"cover.board": board, "cover.joint": joint})) == warned

    def test_binding_is_told_of_the_gap_where_that_was_written(self):
        assert "cover.gap" in warnings({"cover.gap": 9})  # (9 - 1.6) / 2 = 3.7, under 4

    # a board of 2 mm is bare under 2 / 1.414214 = 1.414214
    @pytest.mark.parametrize(("mitre", "refused"), [(1.4143, False), (1.4142, True), (0, True)])
    def test_bare_corner(self, mitre, refused):
        assert ("cover.mitre" in refusals({"cover.mitre": mitre})) == refused

    @pytest.mark.parametrize(("mitre", "warned"), [(2, False), (1.999, True)])
    def test_vaughns_clearance(self, mitre, warned):
        """Vaughn: never nearer the corner than the board is thick (handbook TI20)."""
        assert ("cover.mitre" in warnings({"cover.mitre": mitre})) == warned

    # turn-ins of 15: the cut misses the paper from 15 x 1.414214 = 21.213203
    @pytest.mark.parametrize(("mitre", "refused"), [(21.2132, False), (21.2133, True), (100, True)])
    def test_cut_that_misses_the_paper(self, mitre, refused):
        changes = {"cover.mitre": mitre, "cover.turn_in": 15, "cover.lining_margin": 5}
        assert ("cover.mitre" in refusals(changes)) == refused

    def test_the_smaller_turn_in_decides_where_the_cut_misses(self):
        # (15 + 10) / 1.414214 = 17.677670
        turn_in = {"head": 30, "tail": 15, "fore_edge": 10}
        for mitre, refused in ((17.67, False), (17.68, True)):
            changes = {"cover.mitre": mitre, "cover.turn_in": turn_in, "cover.lining_margin": 5}
            assert ("cover.mitre" in refusals(changes)) == refused

    # turn-in 15 less the board of 2: bare board from a margin of 13, warned from 10
    @pytest.mark.parametrize(
        ("margin", "refused", "warned"), [(10, False, False), (10.01, False, True), (12.99, False, True), (13, True, True)]
    )
    def test_lining_reaches_over_the_turn_ins(self, margin, refused, warned):
        changes = {"cover.turn_in": 15, "cover.lining_margin": margin}
        assert ("cover.lining_margin" in refusals(changes)) == refused
        if not refused:
            assert ("cover.lining_margin" in warnings(changes)) == warned

    @pytest.mark.parametrize("side", ["head", "tail", "fore_edge"])
    def test_the_shortest_turn_in_decides(self, side):
        assert "cover.lining_margin" in refusals({"cover.turn_in": {side: 11}})  # 11 - 2 = 9, under 9.525
        assert "cover.lining_margin" not in refusals({"cover.turn_in": {side: 12}})

    def test_no_margin_at_all_is_warned_of(self):
        assert "cover.lining_margin" in warnings({"cover.lining_margin": 0})

    @pytest.mark.parametrize(
        ("changes", "where"), [({"text_block.leaf": "100 x 38 mm", "cover.turn_in": "30 mm"}, "cover.turn_in")]
    )
    def test_cuts_that_cross(self, changes, where):
        # board 44.35 tall; 44.35 + 2 x 4.2426 - 2 x 30 is below 0
        assert where in refusals(changes)

    def test_no_board_is_left(self):
        assert "cover.joint" in refusals({"text_block.leaf": "40 x 150 mm", "cover.joint": "45 mm"})

    @pytest.mark.parametrize(("square", "warned"), [(10, False), (10.1, True)])
    def test_wide_squares(self, square, warned):
        assert ("cover.square" in warnings({"cover.square": square})) == warned

    # the last station 12 from the tail of the leaf, no square: 12 free for the overlap
    @pytest.mark.parametrize(("overlap", "warned"), [(12, False), (12.1, True)])
    def test_overlap_clear_of_the_stations(self, overlap, warned):
        changes = {"sewing.stations": [12, 75, 138], "cover.square": 0, "tape.overlap": overlap}
        assert ("tape.overlap" in warnings(changes)) == warned

    def test_an_inch_book_has_its_overlap_to_spare_to_the_last_bit(self):
        assert "tape.overlap" not in warnings({"cover.square": 0}, ORCHARD)  # end margin 1/2 in, overlap 1/2 in

    def test_a_key_that_plays_no_part(self):
        assert "tape.turn_in" in warnings({"tape.turn_in": "1 in"})


def assert_folds_true(made: Plan) -> None:
    """Every piece a simple outline, its area what a hand would get."""
    cover = made.cover
    for piece in made.pieces:
        assert_true_outline(piece.outline)
        if "covering" not in piece.name:
            assert polygon(piece.outline).area == pytest.approx(piece.width * piece.height)
    reach = math.sqrt(2) * cover.mitre
    for face in FACES:
        paper = made.piece(f"{face} covering")
        legs = [cover.turn_in_fore_edge + end - reach for end in (cover.turn_in_head, cover.turn_in_tail)]
        assert polygon(paper.outline).area == pytest.approx(paper.width * paper.height - sum(leg**2 for leg in legs) / 2)


class TestOutlines:
    @pytest.mark.parametrize(
        "changes",
        [
            {},
            {"text_block.opening": "right"},
            {"cover.turn_in": {"head": 14, "tail": 22, "fore_edge": 31}, "cover.lining_margin": 5},
            {"cover.mitre": 12, "cover.turn_in": 15, "cover.lining_margin": 5},
            {"tape.inside": "turn-in"},
            {"text_block.leaf": "150 x 60 mm", "cover.turn_in": 12, "cover.lining_margin": 5},
        ],
    )
    def test_true(self, changes):
        assert_folds_true(planned(changes))

    def test_area_by_hand(self):
        # turn-ins 15, mitre 3, board 96.825 x 156.35: (96.825 + 15) x (156.35 + 30) less two corners of 25.757359^2 / 2
        # = 111.825 x 186.35 - 663.441553 = 20838.58875 - 663.441553 = 20175.147197
        made = planned({"cover.turn_in": 15, "cover.lining_margin": 5})
        assert polygon(made.piece("front covering").outline).area == pytest.approx(20175.1472, abs=1e-3)


# --- folding -----------------------------------------------------------------------------------------------------------


def _folded(paper: Outline, board: Size, thick: float) -> tuple[BaseGeometry, BaseGeometry]:
    """The two turn-ins at the head fore-edge corner as they lie on the inner face of a board of real thickness.

    The paper goes up the edge, a thickness, and over: what lay beyond that comes to lie mirrored about the line half a
    thickness beyond the board's edge.
    """
    sheet, far = Polygon(paper), 1000.0
    over_head = sheet.intersection(box(-far, board.height + thick, far, far))
    over_fore_edge = sheet.intersection(box(board.width + thick, -far, far, far))
    head = affine_transform(over_head, (1, 0, 0, -1, 0, 2 * board.height + thick))
    fore_edge = affine_transform(over_fore_edge, (-1, 0, 0, 1, 2 * board.width + thick, 0))
    face = box(0, 0, *board)
    return head.intersection(face), fore_edge.intersection(face)


def _paper(board: Size, turn_in: float, mitre: float) -> Outline:
    return corner.covering(board, TurnIns.all(turn_in), mitre)


BOARD = Size(97, 156)


class TestFolded:
    @pytest.mark.parametrize("thick", [0.5, 1.0, 2.0, 3.0, 5.0])
    @pytest.mark.parametrize(("by", "covered"), [(0.05, True), (-0.05, False)])
    def test_bare_corner(self, thick, by, covered):
        """A corner is covered from a mitre of thickness / sqrt 2 on, as paper and board show when it is folded."""
        head, fore_edge = _folded(_paper(BOARD, 25, thick / math.sqrt(2) + by), BOARD, thick)
        corner_of_board = box(BOARD.width - 8, BOARD.height - 8, *BOARD)
        bare = corner_of_board.difference(head.union(fore_edge))
        assert (bare.area < 1e-9) == covered

    @pytest.mark.parametrize(("thick", "mitre"), [(2.0, 3.0), (2.0, 2.0), (1.5, 4.0), (3.0, 4.5), (0.5, 0.75)])
    def test_width_of_the_lap(self, thick, mitre):
        head, fore_edge = _folded(_paper(BOARD, 25, mitre), BOARD, thick)
        lap = head.intersection(fore_edge)
        across = [(x - y) / math.sqrt(2) for x, y in lap.exterior.coords]
        made = planned({"cover.board": thick, "cover.mitre": mitre})
        assert made.cover.corner_lap == pytest.approx(max(across) - min(across), abs=1e-6)

    def test_width_of_the_lap_by_hand(self):
        # 1.414214 x (1.414214 x 3 - 2) = 6 - 2.828427 = 3.171573
        assert planned({"cover.board": 2, "cover.mitre": 3}).cover.corner_lap == pytest.approx(3.171573, abs=1e-6)

    @pytest.mark.parametrize(("by", "bare"), [(-0.05, False), (0.05, True)])
    @pytest.mark.parametrize("turn_in", [(15, 15, 15), (12, 20, 25), (25, 20, 12), (20, 12, 16)])
    @pytest.mark.parametrize("mitre", [1.45, 2.0, 3.0])
    def test_lining_and_turn_ins_leave_no_board_bare(self, turn_in, mitre, by, bare):
        """Laid on the folded board, a lining shows bare board from just the margin at which it is refused."""
        changes = {"cover.turn_in": dict(zip(("head", "tail", "fore_edge"), turn_in, strict=True)), "cover.mitre": mitre}
        made = planned({**changes, "cover.lining_margin": 0})
        margin = min(turn_in) - 2 + by  # a board of 2 mm takes 2 mm of each turn-in
        board = Size(made.cover.board_width, made.cover.board_height)
        paper = tuple((x, y - turn_in[1]) for x, y in made.piece("back covering").outline)
        turned_over = tuple((x, board.height - y) for x, y in paper)
        at_head, at_tail = _folded(paper, board, 2), _folded(turned_over, board, 2)
        flaps = [*at_head, *(affine_transform(flap, (1, 0, 0, -1, 0, board.height)) for flap in at_tail)]
        lining = box(0, margin, board.width - margin, board.height - margin)
        seen = box(0, 0, *board).difference(unary_union([*flaps, lining])).area
        assert (seen > 1e-6) == bare
        assert ("cover.lining_margin" in refusals({**changes, "cover.lining_margin": margin})) == bare

    def test_the_cut_is_square_to_the_corner(self):
        """The gauge's own measure: from the board's corner to the cut edge, the nearest way, is the mitre."""
        made = planned({"cover.turn_in": {"head": 14, "tail": 22, "fore_edge": 31}, "cover.mitre": 3.5, "cover.lining_margin": 5})
        place = _part(made, "wrap outline", "back board place").box
        edge = LineString([*made.piece("back covering").outline])
        for at in ((place.right, place.top), (place.right, place.bottom)):
            assert edge.distance(Point(at)) == pytest.approx(3.5)

    def test_the_gauge_is_as_wide_as_the_mitre(self):
        gauge = _part(planned({"cover.mitre": 3.5}), "wrap outline", "mitre gauge")
        assert gauge.box.size.height == pytest.approx(3.5)
        assert polygon(gauge.points).is_valid
