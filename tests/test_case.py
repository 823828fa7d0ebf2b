"""The case: sizes typed by hand beside their sums, its templates, its limits, and the order of the work."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

import handbook as h
from bookplates.book.record import Plan
from bookplates.kinds.step import Step
from bookplates.pipeline import make_pack
from shapes import assert_true_outline, planned, polygon, refusals, toml, warnings

FACES = ("front", "back")

# A list of what grew where: leaves 100 x 150 mm, 8 folios of 0.1 mm and four endleaves: 2 mm thick; all else by default
LEDGER: dict[str, Any] = {
    "title": "Allotment ledger",
    "text_block.leaf": "100 x 150 mm",
    "text_block.folios": 8,
    "text_block.caliper": "0.1 mm",
    "cover.style": "case",
    "sewing.pattern": "pamphlet",
}
STIFF = {"cover.spine_piece": "stiff"}
QUARTER = {"cover.covering": "quarter"}
HALF = {"cover.covering": "half", "cover.cloth_on_board": 25}


def mm(inches: Fraction) -> float:
    return float(inches) * 25.4


def case(changes: dict[str, Any] | None = None) -> Plan:
    return planned(changes or {}, LEDGER)


def book(width: float, height: float, thickness: float, **cover: Any) -> Plan:
    """A block as a ruler found it, mm, in a case."""
    measured = {"measured.width": width, "measured.height": height, "measured.thickness": thickness}
    leaf = {"text_block.leaf": [width, height]}
    return case({**leaf, **measured, **{f"cover.{key}": value for key, value in cover.items()}})


def part(made: Plan, title: str, name: str) -> Any:
    (layout,) = (layout for layout in made.layouts if layout.title == title and name in [p.name for p in layout.parts])
    return layout.part(name)


def size(made: Plan, piece: str) -> tuple[float, float]:
    found = made.piece(piece)
    return found.width, found.height


def of_case(found: dict[str, Any]) -> set[str]:
    return {where for where in found if where.startswith("cover.")}


class TestPublished:
    def test_vaughns_whole_cloth(self):
        """Vaughn: board as wide as the book, joint as wide as the square, 3/4 in of turn-in (SQ2, JT1, TI1; worked as E1)."""
        width, height, thick = map(mm, h.E1_BOOK_IN)
        made = book(width, height, thick, square=mm(h.E1_SQUARE_IN), joint=mm(h.E1_JOINT_IN))
        assert (made.cover.board_width, made.cover.board_height) == pytest.approx(tuple(map(mm, h.E1_BOARD_IN)), abs=0.01)
        assert made.cover.boards_apart == pytest.approx(mm(h.E1_BOARDS_APART_IN), abs=0.01)
        assert size(made, "covering") == pytest.approx(tuple(map(mm, h.E1_COVERING_IN)), abs=0.01)

    def test_vaughns_half_cloth(self):
        """Vaughn, fifth and seventh grade: cloth strip and side papers (SQ13, JT2, TI2, TI3; worked as E2)."""
        cover = {"square": mm(Fraction(3, 16)), "joint": mm(h.E2_JOINT_IN), "covering": "quarter"}
        made = book(*map(mm, h.E2_BOOK_IN), cloth_on_board=mm(h.E2_CLOTH_ON_BOARD_IN), **cover)
        assert (made.cover.board_width, made.cover.board_height) == pytest.approx(tuple(map(mm, h.E2_BOARD_IN)), abs=0.01)
        assert size(made, "spine cloth") == pytest.approx(tuple(map(mm, h.E2_CLOTH_IN)), abs=0.01)
        for face in FACES:
            assert size(made, f"{face} side") == pytest.approx(tuple(map(mm, h.E2_SIDE_PAPER_IN)), abs=0.01)
            edge, centre = (part(made, "spine cloth", name).points[0][0] for name in (f"{face} board edge", "spine centre"))
            assert abs(edge - centre) == pytest.approx(mm(h.E2_FROM_CENTRE_IN), abs=0.01)
        assert made.piece("spine cloth").height - made.cover.board_height == pytest.approx(mm(h.TI2_CLOTH_LONGER_IN))
        # what the side paper covers: from the cloth's edge to the fore-edge, 5 - 1 1/4 = 3 3/4 in
        assert made.piece("front side").width - mm(Fraction(15, 4)) == pytest.approx(mm(h.TI3_SIDE_WIDER_IN))
        assert made.cover.overlap == pytest.approx(mm(h.TI3_OVERLAP_IN))

    def test_brightons_stiff_spine(self):
        """Brighton: hard cover with a stiff spine piece (SQ8, JT12, JT13; worked as E3, the gap by itself as E4)."""
        cover = {"board": h.E3_BOARD_THICKNESS_MM, "square": h.SQ8_SQUARE_MM, "joint": h.SQ8_JOINT_MM, "spine_piece": "stiff"}
        made = book(*h.E3_PAGE_MM, h.E3_BLOCK_MM, movement=h.JT12_MOVEMENT_MM, **cover)
        assert (made.cover.board_width, made.cover.board_height) == pytest.approx(h.E3_BOARD_MM, abs=0.01)
        assert size(made, "spine piece") == pytest.approx(h.E3_SPINE_PIECE_MM, abs=0.01)
        assert made.cover.gap == pytest.approx(h.E4_GAP_MM)
        assert (made.cover.open_width, made.cover.open_height) == pytest.approx(h.E3_FLAT_CASE_MM, abs=0.01)
        assert made.cover.boards_apart == pytest.approx(35)  # 19 + 2 x 8
        assert made.cover.spine_piece_width == pytest.approx(19)

    @pytest.mark.parametrize(("larger", "covering"), list(zip(h.TI5_LARGER_MM, h.E6_COVERING_MM, strict=True)))
    def test_adams_whole_cloth(self, larger, covering):
        """Adam, ch. VI: 1 to 1 1/2 cm larger all round than boards and back laid out (TI5; worked as E6)."""
        # a block 10 thick and 132 wide with squares of 3: open 2 x (132 + 3) + 10 = 280; 194 + 2 x 3 = 200
        made = book(132, 194, 10, square=3, joint=6, turn_in=larger)
        assert (made.cover.open_width, made.cover.open_height) == pytest.approx(h.E6_LAID_OUT_MM)
        assert size(made, "covering") == pytest.approx(covering)

    @pytest.mark.parametrize(("turn_in", "length"), list(zip((10, 12.5), h.E7_STRIP_LENGTHS_MM, strict=True)))
    def test_adams_cloth_strip(self, turn_in, length):
        """Adam, ch. VI: 2 to 2 1/2 cm longer and about 4 cm wider than the spine piece (TI6; worked as E7)."""
        # spine piece 16 + 2 x 2 = 20 by 194 + 2 x 3 = 200; gap 5 + 2 + 1 = 8, so 12 on each board makes 4 cm
        cover = {"square": 3, "joint": 5, "spine_piece": "stiff", "covering": "quarter"}
        made = book(132, 194, 16, turn_in=turn_in, cloth_on_board=12, overlap=3, **cover)
        assert size(made, "spine piece") == pytest.approx(h.E7_SPINE_PIECE_MM)
        assert size(made, "spine cloth") == pytest.approx((h.E7_STRIP_WIDTH_MM, length))

    def test_usual_joint_and_turn_in(self):
        """Bean & Brodhead 1918: boards set forward about 1/4 in (JT5); Vaughn: 3/4 in turned in (TI1)."""
        cover = case().cover
        assert cover.joint == pytest.approx(mm(h.JT5_JOINT_IN))
        assert cover.turn_in_head == cover.turn_in_fore_edge == pytest.approx(mm(h.TI1_TURN_IN_IN))

    def test_super(self):
        """Bean & Brodhead 1918: a little shorter than the back, about 1 in on to each fly-leaf (TI26)."""
        made = case({"text_block.sections": 2, "sewing.pattern": "tapes", "measured.thickness": 10})
        assert made.piece("super").width == pytest.approx(10 + 2 * mm(h.TI26_SUPER_ON_LEAF_IN))
        assert 130 < made.piece("super").height < 150
        assert "super" not in [piece.name for piece in case().pieces]


class TestSizes:
    def test_endpapers_thicken_the_block(self):
        made = case()
        assert made.text_block.endleaves == 4
        assert made.text_block.thickness == pytest.approx(2.0)  # (16 + 4) x 0.1
        assert made.text_block.pages == 32
        endpaper = made.piece("endpaper")
        assert (endpaper.count, endpaper.width, endpaper.height) == (2, 200, 150)

    def test_unequal_squares(self):
        cover = book(100, 150, 2, square={"head": 2, "tail": 5, "fore_edge": 4}, joint=6).cover
        assert (cover.board_width, cover.board_height) == pytest.approx((98, 157))  # 100 + 4 - 6; 150 + 2 + 5

    def test_gap_between_boards(self):
        cover = book(100, 150, 4, joint=None, gap=16, square=3).cover
        assert (cover.joint, cover.boards_apart, cover.gap) == pytest.approx((6, 16, 16))  # (16 - 4) / 2
        assert cover.board_width == pytest.approx(97)  # 100 + 3 - 6

    def test_gap_beside_a_spine_piece(self):
        cover = book(100, 150, 4, gap=8, square=3, spine_piece="stiff", movement=1.5).cover
        assert cover.joint == pytest.approx(4.5)  # 8 - 2 - 1.5
        assert cover.board_width == pytest.approx(98.5)  # 100 + 3 - 4.5
        assert cover.boards_apart == pytest.approx(24)  # 4 + 2 x 2 + 2 x 8

    @settings(deadline=None, derandomize=True, max_examples=30)
    @given(st.floats(80, 300), st.floats(0.5, 30), st.floats(4, 9), st.floats(0, 9), st.sampled_from(["none", "stiff"]))
    def test_open_width(self, width, thick, joint, square, piece):
        """Whatever the joint: two leaves, two squares and the thickness; with a spine piece four boards and two plays more."""
        cover = book(width, 150, thick, square=square, joint=joint, spine_piece=piece, turn_in=30).cover
        more = 4 * 2 + 2 * 1 if piece == "stiff" else 0
        assert cover.open_width == pytest.approx(2 * (width + square) + thick + more)

    def test_a_full_covering_by_hand(self):
        # board 100 + 3 - 6 = 97 by 156; apart 2 + 12 = 14; open 208. Turn-ins 15, 20, 18; mitre 3 x 1.414214 = 4.242641.
        # Tail 18 + 20 - 4.242641 = 33.757359, head 18 + 15 - 4.242641 = 28.757359 off each edge; 208 + 36 = 244; 156 + 35 = 191
        made = book(100, 150, 2, square=3, joint=6, turn_in={"head": 15, "tail": 20, "fore_edge": 18}, mitre=3)
        paper = made.piece("covering")
        expected = (
            *((33.757359, 0), (210.242641, 0), (244, 33.757359), (244, 162.242641)),
            *((215.242641, 191), (28.757359, 191), (0, 162.242641), (0, 33.757359)),
        )
        for found, point in zip(paper.outline, expected, strict=True):
            assert found == pytest.approx(point, abs=1e-5)
        front, back = (part(made, "covering", f"{face} board place").box for face in FACES)
        assert tuple(front) == pytest.approx((18, 20, 115, 176))
        assert tuple(back) == pytest.approx((129, 20, 226, 176))  # 115 + 14

    def test_a_corner_by_hand(self):
        # d = 20: leg 28.284271; mitre 3: 4.242641; turn-ins 15 at head and tail, 18 at the fore-edge. Wide 18 + 28.284271 + 15,
        # high 15 + 28.284271 + 18, both 61.284271. The board's corner lies 18 from the left and 15 under the top
        made = book(100, 150, 2, turn_in={"head": 15, "tail": 15, "fore_edge": 18}, mitre=3, covering="half", cloth_on_board=20)
        corner = made.piece("corner")
        assert (corner.count, corner.width, corner.height) == (4, pytest.approx(61.284271), pytest.approx(61.284271))
        # the mitre leaves 18 + 15 - 4.242641 = 28.757359 of either edge off
        expected = ((0, 0), (61.284271, 61.284271), (28.757359, 61.284271), (0, 32.526912))
        for found, point in zip(corner.outline, expected, strict=True):
            assert found == pytest.approx(point, abs=1e-5)
        assert part(made, "corner", "board corner place").points[1] == pytest.approx((18, 46.284271))

    def test_slanted_side_by_hand(self):
        # board 97 by 156, cloth 20, overlap 4: paper 97 - 20 + 4 + 18 = 99 by 186; the slant stands 16 from the corner:
        # 16 x 1.414214 = 22.627417 along the board, so 22.627417 + 18 + 15 = 55.627417 off each edge of the paper
        turn_in = {"head": 15, "tail": 15, "fore_edge": 18}
        cover = {"square": 3, "joint": 6, "turn_in": turn_in, "covering": "half", "cloth_on_board": 20, "overlap": 4}
        back = book(100, 150, 2, **cover).piece("back side")
        expected = ((0, 0), (43.372583, 0), (99, 55.627417), (99, 130.372583), (43.372583, 186), (0, 186))
        for found, point in zip(back.outline, expected, strict=True):
            assert found == pytest.approx(point, abs=1e-5)

    def test_unequal_turn_ins_make_two_kinds_of_corner(self):
        made = case({**HALF, "cover.turn_in": {"head": "18 mm", "tail": "22 mm", "fore_edge": "20 mm"}})
        counts = {piece.name: piece.count for piece in made.pieces if "corner" in piece.name}
        assert counts == {"head corner": 2, "tail corner": 2}
        # the board's corner lies 18 under the top of the one, 22 above the foot of the other
        assert made.piece("head corner").height - part(made, "head corner", "board corner place").points[1][1] == pytest.approx(
            18
        )
        assert part(made, "tail corner", "board corner place").points[1] == pytest.approx((20, 22))


class TestTemplates:
    @pytest.mark.parametrize("changes", [{}, STIFF, QUARTER, HALF, {**HALF, **STIFF, "text_block.opening": "right"}])
    def test_every_piece_is_a_true_outline(self, changes):
        made = case({**changes, "cover.turn_in": {"head": "18 mm", "tail": "22 mm", "fore_edge": "20 mm"}})
        for piece in made.pieces:
            assert_true_outline(piece.outline)
        for layout in made.layouts_of("wrap outline"):
            assert len({shape.name for shape in layout.parts}) == len(layout.parts)
            if not layout.title.endswith("gauge"):
                assert layout.part(layout.title).points == made.piece(layout.title).outline

    def test_layouts(self):
        def titles(made: Plan) -> list[tuple[str, str, int]]:
            return [(layout.plate, layout.title, layout.copies) for layout in made.layouts[1:-1]]

        gauge = ("wrap outline", "mitre gauge", 1)
        boards = [("board outline", "", 2)]
        spine = [("board outline", "spine piece", 1)]
        sides = [("wrap outline", "spine cloth", 1), ("wrap outline", "front side", 1), ("wrap outline", "back side", 1)]
        assert titles(case()) == [*boards, ("wrap outline", "covering", 1), gauge, ("spacer", "", 2)]
        assert titles(case({**QUARTER, **STIFF})) == [*boards, *spine, *sides, gauge, ("spacer", "gap", 2)]
        assert titles(case(HALF)) == [*boards, *sides, ("wrap outline", "corner", 4), gauge, ("spacer", "", 2)]

    def test_the_front_board_lies_at_the_left_unless_the_book_opens_the_other_way(self):
        for opening, left, right in (("left", "front", "back"), ("right", "back", "front")):
            made = case({**STIFF, "text_block.opening": opening})
            xs = [part(made, "covering", f"{name} place").box.left for name in (f"{left} board", "spine piece", f"{right} board")]
            assert xs == sorted(xs)
            cloth = case({**QUARTER, "text_block.opening": opening})
            assert (
                part(cloth, "spine cloth", f"{left} board edge").box.left
                < part(cloth, "spine cloth", f"{right} board edge").box.left
            )

    def test_pricks_lie_at_the_boards_corners(self):
        made = case(STIFF)
        for face in FACES:
            corners = part(made, "covering", f"{face} board place").points
            for n, corner in enumerate(corners, 1):
                assert part(made, "covering", f"{face} prick {n}").box.middle == pytest.approx(corner)

    def test_square_corners_are_there_before_the_mitres(self):
        made = case()
        (layout,) = (layout for layout in made.layouts if layout.title == "covering")
        whole = polygon(made.piece("covering").outline)
        for corner in layout.named("covering "):
            whole = whole.union(Polygon(corner.points))
        assert whole.symmetric_difference(box(*whole.bounds)).area == pytest.approx(0, abs=1e-6)

    def test_front_and_back_mirror_each_other(self):
        for changes in (QUARTER, HALF):
            left, right = (case({**changes, "text_block.opening": way}) for way in ("left", "right"))
            assert left.piece("front side").outline == right.piece("back side").outline
            assert left.piece("front side").outline != left.piece("back side").outline

    def test_spacer(self):
        assert part(case(), "", "spacer").box.size.width == pytest.approx(14.7)  # 2 + 2 x 6.35
        assert part(case(STIFF), "gap", "spacer").box.size.width == pytest.approx(9.35)  # 6.35 + 2 + 1

    @pytest.mark.parametrize("changes", [STIFF, {**QUARTER, "cover.cloth_on_board": 20}, {**HALF, "cover.cloth_on_board": 18}])
    def test_a_pack_measures_as_planned(self, changes):
        small = {**LEDGER, "text_block.leaf": "80 x 110 mm", "cover.turn_in": "15 mm", **changes}
        made = make_pack(toml(small))
        assert made.verified.largest_difference < 0.01
        assert made.verified.parts >= sum(len(layout.parts) for layout in made.plan.layouts)


# block 2 thick; board 2, so 100 + 3.175 - 6.35 = 96.825 by 156.35
class TestLimits:
    @pytest.mark.parametrize(("gap", "refused"), [(2, False), (1.99, True)])
    def test_gap_holds_the_block(self, gap, refused):
        assert ("cover.gap" in refusals({"cover.gap": gap, "cover.board": 1}, LEDGER)) == refused

    @pytest.mark.parametrize(("gap", "refused"), [(3, False), (2.99, True)])
    def test_gap_holds_board_and_movement(self, gap, refused):
        assert ("cover.gap" in refusals({**STIFF, "cover.gap": gap}, LEDGER)) == refused

    @pytest.mark.parametrize(("joint", "warned"), [(4, False), (3.99, True)])
    def test_boards_bind(self, joint, warned):
        assert ("cover.joint" in warnings({"cover.joint": joint}, LEDGER)) == warned
        assert "cover.joint" not in warnings({**STIFF, "cover.joint": joint}, LEDGER)

    # the pasted-down leaf begins 3.175 in: bare board with a turn-in of 3.175 + 2, narrow with 3 more
    @pytest.mark.parametrize(
        ("turn_in", "refused", "warned"), [(5.175, True, False), (5.18, False, True), (8.17, False, True), (8.175, False, False)]
    )
    def test_turn_ins_reach_under_the_pasted_leaf(self, turn_in, refused, warned):
        found = {"cover.turn_in": turn_in, "cover.mitre": 2.5}
        assert ("cover.turn_in" in refusals(found, LEDGER)) == refused
        if not refused:
            assert ("cover.turn_in" in warnings(found, LEDGER)) == warned

    # 8 folios untrimmed: the boards are made for an innermost leaf 7 x 0.1 out, so the endpaper's leaf begins 3.875 in;
    # 8.5 - 2 - 3.175 = 3.325 to spare, but 2.625 where it is not trimmed
    @pytest.mark.parametrize(("trim", "warned"), [("flush", False), ("none", True)])
    def test_an_untrimmed_block_is_wider_than_its_endpaper(self, trim, warned):
        assert ("cover.turn_in" in warnings({"cover.turn_in": 8.5, "text_block.trim": trim}, LEDGER)) == warned

    @pytest.mark.parametrize("side", ["head", "tail", "fore_edge"])
    def test_the_side_with_the_widest_square_decides(self, side):
        told = refusals({"cover.turn_in": 10, "cover.square": {side: "8 mm"}}, LEDGER)["cover.turn_in"]
        assert side.replace("_", "-") in str(told)
        assert "cover.turn_in" not in refusals({"cover.turn_in": 13, "cover.square": {side: "8 mm"}}, LEDGER)  # 8 + 2 + 3

    @pytest.mark.parametrize(("mitre", "refused"), [(1.4143, False), (1.4142, True)])
    def test_bare_corner(self, mitre, refused):
        assert ("cover.mitre" in refusals({"cover.mitre": mitre}, LEDGER)) == refused

    # 2 x 1.414214 d under 156.35: d under 55.278; (1 + 1.414214) d under 96.825: d under 40.106
    @pytest.mark.parametrize(("changes", "cloth", "refused"), [({}, 40.1, False), ({}, 40.11, True)])
    def test_corners_clear_of_the_spine_cloth(self, changes, cloth, refused):
        assert ("cover.cloth_on_board" in refusals({**HALF, "cover.cloth_on_board": cloth, **changes}, LEDGER)) == refused

    # a board 200 + 3.175 - 6.35 wide and 60 + 6.35 tall: d under 66.35 / 2.828427 = 23.458
    @pytest.mark.parametrize(("cloth", "refused"), [(23.45, False), (23.46, True)])
    def test_corners_clear_of_each_other(self, cloth, refused):
        wide = {"text_block.leaf": "200 x 60 mm", "cover.turn_in": 12, "cover.cloth_on_board": cloth}
        assert ("cover.cloth_on_board" in refusals({**HALF, **wide}, LEDGER)) == refused

    @pytest.mark.parametrize("kind", [QUARTER, HALF])
    @pytest.mark.parametrize(("overlap", "refused"), [(19.9, False), (20, True)])
    def test_some_cloth_shows(self, kind, overlap, refused):
        changes = {**kind, "cover.cloth_on_board": 20, "cover.overlap": overlap}
        assert ("cover.overlap" in refusals(changes, LEDGER)) == refused

    @pytest.mark.parametrize(("cloth", "refused"), [(96.8, False), (96.83, True)])
    def test_some_side_paper_is_left(self, cloth, refused):
        changes = {**QUARTER, "cover.cloth_on_board": cloth, "cover.turn_in": 12, "cover.overlap": 20}
        assert ("cover.cloth_on_board" in refusals(changes, LEDGER)) == refused

    def test_advice_holds_when_typed(self):
        assert of_case(refusals({**HALF, "cover.cloth_on_board": 41}, LEDGER)) == {"cover.cloth_on_board"}
        (advice,) = (str(p) for p in refusals({**HALF, "cover.cloth_on_board": 41}, LEDGER).values())
        assert "less than 40.1 mm" in advice
        assert not of_case(refusals({**HALF, "cover.cloth_on_board": 40}, LEDGER))

    @pytest.mark.parametrize(
        ("changes", "key"),
        [
            ({"cover.movement": 1}, "movement"),
            ({"cover.cloth_on_board": 30}, "cloth_on_board"),
            ({"cover.overlap": 3}, "overlap"),
        ],
    )
    def test_a_key_that_plays_no_part(self, changes, key):
        assert f"cover.{key}" in warnings(changes, LEDGER)
        assert f"cover.{key}" not in [default.where for default in case().defaults]

    def test_keys_that_play_their_part_are_listed(self):
        listed = [default.where for default in case({**STIFF, **QUARTER}).defaults]
        assert {"cover.movement", "cover.cloth_on_board", "cover.overlap", "cover.joint"} <= set(listed)

    @pytest.mark.parametrize("changes", [{}, STIFF, QUARTER, {**HALF, "text_block.opening": "right"}])
    def test_a_usual_case_needs_no_warning(self, changes):
        assert not of_case(warnings(changes, LEDGER))


class TestWork:
    def titles(self, made: Plan) -> list[str]:
        return [entry.title if isinstance(entry, Step) else entry for entry in made.work]

    def pictures(self, made: Plan) -> list[str]:
        return [entry.picture for entry in made.work if isinstance(entry, Step)]

    def test_the_block_is_sewn_and_measured_before_boards_are_cut(self):
        titles = self.titles(case())
        assert titles[:6] == ["fold", "nest", "trim", "pierce", "thread", "sew"]
        assert titles.index("sew") < titles.index("measure") < titles.index("Cut the boards") < titles.index("Case in")
        assert titles[-1] == "press"

    def test_each_covering_has_its_own_steps(self):
        begin, end = ["tip endpapers"], ["case in"]
        assert self.pictures(case()) == [*begin, "cut boards", "lay out case", "turn in case", *end]
        assert self.pictures(case(QUARTER)) == [*begin, "cut boards", "cloth spine", "side papers", "turn in case", *end]
        assert self.pictures(case(HALF)) == [*begin, "cut boards", "cloth spine", "corners", "side papers", *end]

    def test_several_sections_have_their_spine_glued(self):
        made = case({"text_block.sections": 2, "sewing.pattern": "tapes"})
        assert self.pictures(made)[:3] == ["tip endpapers", "glue spine", "super"]

    @pytest.mark.parametrize("changes", [{}, STIFF, QUARTER, HALF])
    def test_steps_name_only_what_there_is(self, changes):
        made = case(changes)
        said = " ".join(" ".join(entry.sentences) for entry in made.work if isinstance(entry, Step))
        for word, there in (
            ("spine piece", "cover.spine_piece" in changes),
            ("mitre gauge", True),
            ("spine cloth", "cover.covering" in changes),
            ("super", False),
            ("corner outline", changes.get("cover.covering") == "half"),
            ("covering wrap outline", "cover.covering" not in changes),
        ):
            assert (word in said) == there, word

    def test_numbers_in_the_steps(self):
        said = " ".join(" ".join(entry.sentences) for entry in case({**HALF, "cover.overlap": 3}).work if isinstance(entry, Step))
        assert "mark 22 mm" in said  # 25 - 3
        assert "boards are 14.7 mm" in said

    def test_provisional_sizes_name_only_what_there_is(self):
        full, quarter = case().provisional, case({**QUARTER, **STIFF}).provisional
        assert {"boards apart", "covering width"} <= set(full)
        assert not {"side width", "cloth width", "super width", "spine piece width"} & set(full)
        assert {"cloth width", "side width", "spine piece width"} <= set(quarter)
        assert "covering width" not in quarter
        assert not set(book(100, 150, 2).provisional)
