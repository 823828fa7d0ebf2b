"""The side-sewn cover: published hinges, squares and insets; sizes typed by hand; holes of leaves and covers that meet."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from shapely.geometry import LineString, Point, box
from shapely.ops import unary_union

import handbook as h
from bookplates.book.record import Plan
from bookplates.geometry import Size, bounds
from bookplates.handout.facts import chapters
from bookplates.handout.steps import steps
from bookplates.kinds.pairs import patterns_for
from bookplates.papers.printing import PageSetup
from bookplates.pipeline import make_pack
from bookplates.plates import punch_guide
from bookplates.plates.drawing import Stroke
from shapes import assert_true_outline, planned, polygon, refusals, toml, warnings

# Leaves 120 x 160 mm, 20 folios of 0.1 mm: 40 leaves, 4 mm thick
TALLY: dict[str, Any] = {
    "title": "Apple tally",
    "text_block.leaf": "120 x 160 mm",
    "text_block.folios": 20,
    "text_block.caliper": "0.1 mm",
    "cover.style": "side-sewn",
}
HINGED = {**TALLY, "cover.hinge": "25 mm", "cover.hinge_gap": "4 mm"}
FACES = ("front", "back")


def mm(inches: Any) -> float:
    return float(inches) * 25.4


def flat(points: Any) -> list[float]:
    return [number for point in points for number in point]


def soft(**changes: Any) -> Plan:
    return planned(changes, TALLY)


def hinged(changes: dict[str, Any] | None = None) -> Plan:
    return planned(changes or {}, HINGED)


class TestPublished:
    def test_covers_reach_an_eighth_beyond_the_pages(self):
        """Bean & Brodhead, Problem VIII-A (handbook SQ12)."""
        covering = soft().piece("front covering")
        square = mm(h.SQ12_SQUARE_IN)
        assert (covering.width, covering.height) == pytest.approx((120 + square, 160 + 2 * square))

    def test_hinge_strip_and_gap(self):
        """Bean & Brodhead, Problem VIII-A: a strip of 3/4 to 1 in, the two pieces re-laid 1/8 in apart (handbook JT7)."""
        for strip in h.JT7_STRIP_IN:
            made = planned({"cover.hinge": mm(strip)}, TALLY)
            assert made.cover.hinge_gap == pytest.approx(mm(h.JT7_APART_IN))  # by default
            whole = 120 + 3.175
            assert made.piece("hinge strip").width + 3.175 + made.piece("front board").width == pytest.approx(whole)
            assert made.piece("hinge strip").count == 2

    def test_note_book_hinge(self):
        """Buxton & Curran no. 413: a 3/4 in strip, 1/2 in from the main board (handbook JT8); no warning with boards so thin."""
        made = planned({"cover.hinge": "3/4 in", "cover.hinge_gap": "1/2 in"}, TALLY)
        left = {name: place.box for name, place in _places(made, "back").items()}
        assert left["back board place"].left - left["back hinge strip place"].right == pytest.approx(mm(h.JT8_GAP_IN))
        assert left["back hinge strip place"].size.width == pytest.approx(mm(h.JT8_STRIP_IN))
        assert "cover.hinge_gap" not in {warning.where for warning in made.warnings}

    def test_lining_to_within_an_eighth_of_the_main_board(self):
        """Bean & Brodhead, Problem VIII-A: lining to within 1/8 in of the large piece's edges, not over the hinge (TI12)."""
        made = hinged()
        board, lining = made.piece("front board"), made.piece("front lining")
        margin = mm(h.TI12_LINING_MARGIN_IN)
        assert (board.width - lining.width, board.height - lining.height) == pytest.approx((2 * margin, 2 * margin))
        layout = made.layouts_of("lining outline")[0]
        assert box(*layout.part("front board place").box).contains(polygon(layout.part("front lining").points))
        # over strip and gap instead, 1/2 in on to the large piece: 25 - 3.175 + 4 + 12.7
        assert made.piece("inner strip").width == pytest.approx(38.525)
        assert made.piece("inner strip").width - (25 - margin) - 4 == pytest.approx(mm(h.TI12_LAP_IN))

    def test_holes_at_least_10_mm_in_by_a_2_mm_drill(self):
        """Winchester (handbook ST3)."""
        made = soft()
        assert min(x for x, _ in made.sewing.holes) >= h.ST3_INSET_MM
        assert made.sewing.hole == h.ST3_DRILL_MM
        assert any(
            f"{h.ST3_INSET_MM:g} mm" in w.hint for key, w in warnings({"sewing.inset": 6}, TALLY).items() if "inset" in key
        )

    @pytest.mark.parametrize(("inset", "warned"), [(6.0, True), (10.0, False), (25.4, False)])
    def test_holes_a_quarter_to_one_inch_in(self, inset: float, warned: bool):
        """Utah State: 1/4 to 1 in from the gutter edge (handbook ST4); 6 mm is under 1/4 in, 6.35 mm."""
        assert (inset < mm(h.ST4_INSET_IN[0])) is warned
        assert ("sewing.inset" in warnings({"sewing.inset": inset}, TALLY)) is warned

    def test_two_holes_of_a_small_hinge_strip(self):
        """Bean & Brodhead: strip 6 in long, 1 in wide; two holes 1.0 to 1.2 in from its ends, 1/2 in from its edges (E10)."""
        wide, long = map(mm, h.E10_STRIP_IN)
        for end in map(mm, h.E10_FROM_ENDS_IN):
            made = planned(
                {
                    "text_block.leaf": [140, long],
                    "cover.square": {"head": 0, "tail": 0, "fore_edge": "1/8 in"},
                    "cover.hinge": wide,
                    "sewing.count": 2,
                    "sewing.end_margin": end,
                    "sewing.inset": mm(h.E10_FROM_EDGE_IN),
                },
                TALLY,
            )
            assert flat(made.sewing.holes) == pytest.approx([12.7, end, 12.7, long - end])
            strip = made.piece("hinge strip")
            assert (strip.width, strip.height) == pytest.approx((wide, long))
            assert strip.width - 12.7 == pytest.approx(12.7)  # 1/2 in from the other long edge, too


class TestSoft:
    def test_two_cards_by_one_template(self):
        made = soft(**{"cover.square": "3 mm"})
        assert [(p.name, p.material, p.count) for p in made.pieces[1:]] == [
            ("front covering", "card", 1),
            ("back covering", "card", 1),
        ]
        (layout,) = made.layouts_of("board outline")
        assert layout.copies == 2
        assert layout.part("front covering").box.size == pytest.approx((123, 166))  # 120 + 3; 160 + 3 + 3
        assert any("turned over" in sentence for sentence in layout.use)
        assert made.cover.board_thickness == 0.3

    def test_leaves_and_pages(self):
        block = soft().text_block
        assert (block.folios, block.leaves, block.pages) == (20, 40, 80)
        assert (block.creep, block.block_width, block.section_thickness) == pytest.approx((0, 120, 4.0))  # 40 x 0.1
        assert block.thickness == pytest.approx(4.0)

    def test_single_leaves_are_cut_one_by_one_where_only_the_leaf_is_known(self):
        sheet = soft().piece("text sheet")
        assert (sheet.count, sheet.width, sheet.height) == (40, 120, 160)

    def test_folded_at_the_fore_edge_they_are_folios(self):
        made = soft(**{"cover.leaves": "fore-edge folded"})
        sheet = made.piece("text sheet")
        assert (sheet.count, sheet.width, sheet.height) == (20, 240, 160)
        assert (made.text_block.leaves, made.text_block.pages, made.text_block.thickness) == (40, 80, pytest.approx(4.0))
        said = " ".join(sentence for step in steps(made) for sentence in step.sentences)
        assert "Of the 80 pages half lie inside the folds" in said

    def test_a_trim_comes_off_single_leaves(self):
        made = soft(**{"text_block.trim": "4 mm", "cover.square": "3 mm"})
        assert made.text_block.block_width == pytest.approx(116)
        assert made.piece("back covering").width == pytest.approx(119)  # 116 + 3
        assert any(step.title == "Trim the fore-edge" for step in steps(made))

    def test_no_joint(self):
        assert set(refusals({"cover.joint": "5 mm"}, TALLY)) == {"cover.joint"}

    @pytest.mark.parametrize("key", ["hinge_gap", "turn_in", "mitre", "lining_margin"])
    def test_what_only_a_hinge_has(self, key: str):
        found = refusals({f"cover.{key}": "4 mm"}, TALLY)
        assert set(found) == {f"cover.{key}"}
        assert "hinge" in found[f"cover.{key}"].what

    def test_the_sizes_speak_of_no_hinge_and_no_turn_in(self):
        names = [fact.name for chapter in chapters(soft()) for fact in chapter.facts]
        assert not any("hinge" in name or "turn-in" in name or "pierced" in name or "sections" in name for name in names)
        assert {default.where for default in soft().defaults}.isdisjoint({"cover.turn_in", "cover.lining_margin"})


class TestHinged:
    @pytest.mark.parametrize("opening", ["left", "right"])
    @pytest.mark.parametrize("face", FACES)
    def test_board_and_strip_on_their_covering(self, face: str, opening: str):
        made = hinged({"text_block.opening": opening, "cover.square": "3 mm", "cover.turn_in": "15 mm"})
        paper = made.piece(f"{face} covering")
        # (120 + 3) + 2 x 15; (160 + 6) + 2 x 15
        assert (paper.width, paper.height) == pytest.approx((153, 196))
        assert_true_outline(paper.outline)
        places = {name: box(*part.box) for name, part in _places(made, face).items()}
        board, strip = places[f"{face} board place"], places[f"{face} hinge strip place"]
        assert board.bounds[2] - board.bounds[0] == pytest.approx(94)  # 123 - 25 - 4
        assert board.distance(strip) == pytest.approx(4)
        assert polygon(paper.outline).contains(unary_union([board, strip]))
        both = unary_union([board, strip]).bounds
        assert both == pytest.approx((15, 15, 138, 181))
        spine_right = (face == "front") == (opening == "left")
        assert (strip.bounds[2] == pytest.approx(138)) is spine_right
        assert (strip.bounds[0] == pytest.approx(15)) is not spine_right

    def test_every_corner_of_board_and_strip_is_pricked(self):
        made = hinged()
        for face in FACES:
            layout = next(one for one in made.layouts_of("wrap outline") if one.title == face)
            pricks = [Point(part.box.middle) for part in layout.parts if part.line == "hole"]
            corners = [Point(at) for part in _places(made, face).values() for at in part.points]
            assert len(pricks) == len(corners) == 8
            assert all(min(prick.distance(corner) for prick in pricks) < 1e-9 for corner in corners)

    def test_the_inside_is_all_covered(self):
        """Turn-ins, inner strip and lining, laid where they belong, leave no bare board."""
        made = hinged({"cover.square": 0, "cover.turn_in": "15 mm", "cover.lining_margin": "5 mm"})
        # whole 120 x 160, strip 0..25, board 29..120; turn-ins reach 15 - 2 = 13 in on all sides
        boards = unary_union([box(0, 0, 25, 160), box(29, 0, 120, 160)])
        turned = box(0, 0, 120, 160) - box(13, 13, 107, 147)
        inner, lining = made.piece("inner strip"), made.piece("front lining")
        strip = box(5, 5, 5 + inner.width, 5 + inner.height)
        lined = box(34, 5, 34 + lining.width, 5 + lining.height)
        assert boards.difference(unary_union([turned, strip, lined])).area == pytest.approx(0, abs=1e-9)
        assert not lined.intersects(box(0, 0, 29, 160))

    @pytest.mark.parametrize(("gap", "warned"), [("3.9 mm", True), ("4 mm", False)])
    def test_a_gap_under_twice_the_board_does_not_fold_back(self, gap: str, warned: bool):
        """2 x 2 mm (design; handbook JT7, JT8 give gaps of 1/8 and 1/2 in)."""
        assert ("cover.hinge_gap" in warnings({"cover.hinge_gap": gap}, HINGED)) is warned

    def test_a_hinge_that_leaves_no_board(self):
        assert set(refusals({"cover.hinge": "115 mm", "cover.square": "3 mm"}, HINGED)) == {"cover.hinge"}  # 123 - 115 - 4 = 4
        assert set(refusals({"cover.hinge": "200 mm"}, HINGED)) == {"cover.hinge"}

    def test_its_board_is_stiff(self):
        assert hinged().cover.board_thickness == 2.0
        assert hinged().cover.board_width == pytest.approx(94.175)  # 123.175 - 25 - 4

    @pytest.mark.parametrize(
        ("inset", "hinge", "fine"),
        [(10, 14, True), (10, 13.9, False), (21, 25, True), (21.1, 25, False), (4, 25, True), (3.9, 25, False)],
    )
    def test_holes_stay_3_mm_inside_the_strip(self, inset: float, hinge: float, fine: bool):
        """A hole of 2 mm: its middle at least 3 + 1 mm from either edge of the strip."""
        found = refusals({"sewing.inset": inset, "cover.hinge": hinge}, HINGED)
        assert set(found) == (set() if fine else {"sewing.inset"})
        if not fine:
            assert "cover.hinge" in found["sewing.inset"].what

    def test_the_advice_about_holes_works_when_typed(self):
        hint = refusals({"sewing.inset": 23}, HINGED)["sewing.inset"].hint
        assert hint == "4 mm to 21 mm, or cover.hinge = 27 mm or more"
        assert refusals({"sewing.inset": 21}, HINGED) == refusals({"sewing.inset": 23, "cover.hinge": 27}, HINGED) == {}

    def test_turn_ins_that_meet_and_cuts_that_cross(self):
        narrow = {"text_block.leaf": "60 x 160 mm", "cover.square": 0, "cover.hinge": 20}
        assert "cover.turn_in" in warnings({**narrow, "cover.turn_in": {"fore_edge": "33 mm"}, "cover.mitre": 12}, HINGED)
        crossing = {**narrow, "cover.turn_in": {"head": 40, "tail": 40, "fore_edge": 30}}
        assert "cover.turn_in" in refusals(crossing, HINGED)  # 60 + 2 (1.414 x 3 - 40) < 0


class TestHoles:
    @pytest.mark.parametrize("pattern", patterns_for("side-sewn"))
    @pytest.mark.parametrize("opening", ["left", "right"])
    @pytest.mark.parametrize("base", [TALLY, HINGED], ids=["soft", "hinged"])
    def test_holes_of_leaves_and_cover_meet(self, pattern: str, opening: str, base: dict[str, Any]):
        """With the guides laid spine edge to spine edge and the cover's head 2 mm above the leaves'."""
        made = planned(
            {
                "sewing.pattern": pattern,
                "text_block.opening": opening,
                "cover.square": {"head": "2 mm", "tail": "5 mm", "fore_edge": "3 mm"},
            },
            base,
        )
        leaf, cover = (made.layouts_of(plate)[0] for plate in ("punch guide", "cover punch guide"))
        assert leaf.part("punch guide").box.size.height == pytest.approx(160)
        assert cover.part("cover punch guide").box.size.height == pytest.approx(167)
        holes = [made.sewing.holes, *(_from_spine_and_head(layout, opening) for layout in (leaf, cover))]
        assert flat(holes[1]) == pytest.approx(flat(holes[0]))
        assert flat((x, y - 2) for x, y in holes[2]) == pytest.approx(flat(holes[0]))
        assert [part.name for part in leaf.named("station ")] == [f"station {n}" for n in range(1, len(holes[0]) + 1)]

    def test_the_cover_guide_is_as_wide_as_the_hinge_strip(self):
        (guide,) = hinged().layouts_of("cover punch guide")
        assert guide.part("cover punch guide").box.size.width == 25

    def test_one_guide_serves_where_the_covers_are_as_tall_as_the_leaves(self):
        made = soft(**{"cover.square": {"head": 0, "tail": 0, "fore_edge": 3}})
        assert made.layouts_of("cover punch guide") == ()
        assert any("covers" in sentence for sentence in made.layouts_of("punch guide")[0].use)

    def test_a_narrow_leaf_is_its_own_guide(self):
        (guide,) = planned({"text_block.leaf": "30 x 100 mm"}, TALLY).layouts_of("punch guide")
        assert guide.part("punch guide").box.size == pytest.approx((30, 100))

    def test_no_part_of_a_flat_guide_is_a_fold(self):
        for layout in soft().layouts_of("punch guide"):
            assert {part.line for part in layout.parts} == {"cut", "place", "hole"}

    def test_crosses_of_near_holes_stay_apart(self):
        """Strokes of the drawing that are no parts: the crosses of a pattern whose holes stand close."""
        made = planned({"sewing.pattern": "hemp leaf", "sewing.inset": "12 mm"}, TALLY)
        holes = [Point(x, 160 - y) for x, y in made.sewing.holes]
        (drawing,) = punch_guide.draw(made, PageSetup(Size(210, 297), 6.35, Size(100, 100)))
        arms = [LineString(i.points) for i in drawing.items if isinstance(i, Stroke) and not i.part and len(i.points) == 2]
        crosses = [arm for arm in arms if any(arm.interpolate(0.5, normalized=True).distance(hole) < 1e-6 for hole in holes)]
        assert len(crosses) == 2 * len(holes)
        for one, other in itertools.combinations(crosses, 2):
            same = one.interpolate(0.5, normalized=True).distance(other.interpolate(0.5, normalized=True)) < 1e-6
            assert same or not one.intersects(other)


class TestRefusals:
    def test_sections(self):
        assert set(refusals({"text_block.sections": 2}, TALLY)) == {"text_block.sections"}

    @pytest.mark.parametrize(
        ("folios", "board", "what"),
        [(47, "0.3 mm", ""), (48, "0.3 mm", "warned"), (247, "0.3 mm", "warned"), (248, "0.3 mm", "refused"), (30, "2 mm", "")],
    )
    def test_how_thick_a_needle_passes(self, folios: int, board: str, what: str):
        """0.2 mm a folio and two covers: 47 are 9.4 + 0.6 = 10 mm, 247 are 50 mm; 30 in boards 6 + 4 = 10 mm."""
        changes = {"text_block.folios": folios, "cover.board": board}
        refused = set(refusals(changes, TALLY)) == {"text_block.folios"}
        assert refused is (what == "refused")
        if not refused:
            assert ("text_block.folios" in warnings(changes, TALLY)) is (what == "warned")

    def test_three_hundred_sheets(self):
        paper = {"text_block.leaf": None, "text_block.folios": None, "text_block.sheet": "A4", "text_block.format": "quarto"}
        found = refusals({**paper, "text_block.sheets": 300}, TALLY)  # 300 x 4 leaves x 0.1 = 120 mm
        assert set(found) == {"text_block.sheets"}
        assert "120.6 mm" in found["text_block.sheets"].what

    def test_a_trim_that_opens_the_folds(self):
        assert set(refusals({"text_block.trim": "3 mm", "cover.leaves": "fore-edge folded"}, TALLY)) == {"text_block.trim"}

    def test_a_bare_corner_and_bare_board(self):
        assert set(refusals({"cover.mitre": "1.4 mm"}, HINGED)) == {"cover.mitre"}  # 2 / sqrt 2 = 1.414
        assert set(refusals({"cover.lining_margin": "18 mm"}, HINGED)) == {"cover.lining_margin"}  # 19.05 - 2 = 17.05


@pytest.mark.parametrize("base", [TALLY, HINGED], ids=["soft", "hinged"])
def test_the_steps_name_only_what_the_pack_holds(base: dict[str, Any]):
    made = planned({}, base)
    said = " ".join(f"{step.title} {' '.join(step.sentences)}" for step in steps(made))
    plates = {layout.plate for layout in made.layouts}
    for plate in ("punch guide", "cover punch guide", "board outline", "wrap outline", "lining outline"):
        assert (plate in said) is (plate in plates), plate
    pictures = [step.picture for step in steps(made) if step.picture]
    assert {"stack leaves", "clamp", "drill", "lay covers", "cut boards"} <= set(pictures)
    assert ("hinge boards" in pictures) is (base is HINGED)


@pytest.mark.parametrize("base", [TALLY, {**HINGED, "text_block.leaf": "80 x 110 mm"}], ids=["soft", "hinged"])
def test_a_pack_is_made_and_measures_as_planned(base: dict[str, Any]):
    made = make_pack(toml(base))
    assert made.verified.largest_difference <= 0.01


def _places(made: Plan, face: str) -> dict[str, Any]:
    layout = next(one for one in made.layouts_of("wrap outline") if one.title == face)
    return {part.name: part for part in layout.parts if part.line == "place"}


def _from_spine_and_head(layout: Any, opening: str) -> list[tuple[float, float]]:
    card = bounds(layout.parts[0].points)
    middles = [part.box.middle for part in layout.named("station ")]
    return [(x - card.left if opening == "left" else card.right - x, card.top - y) for x, y in middles]
