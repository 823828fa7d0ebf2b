"""The concertina: strips and tabs by sums typed by hand, boards larger on all four sides, and nothing sewn."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box

from bookplates.book.as_json import plan_as_json
from bookplates.book.record import Plan
from bookplates.geometry import Size
from bookplates.handout.facts import chapters
from bookplates.handout.steps import steps
from bookplates.kinds.block import Paper
from bookplates.kinds.styles.concertina import strips
from bookplates.pipeline import make_pack
from bookplates.report import plan_table
from shapes import assert_true_outline, planned, polygon, refusals, toml, warnings

# A4 octavo of a short-grain sheet: panels of 74.25 x 105 mm, the grain along the folds of strips 297 mm long
PLOTS: dict[str, Any] = {
    "title": "Plot map",
    "text_block.sheet": "A4",
    "text_block.format": "octavo",
    "text_block.grain": "short",
    "text_block.caliper": "0.15 mm",
    "cover.style": "concertina",
    "cover.panels": 10,
    "cover.square": "3 mm",
}
# Only the leaf known: one strip in one piece
SHORE: dict[str, Any] = {
    "title": "Shore walk",
    "text_block.leaf": "80 x 110 mm",
    "text_block.caliper": "0.15 mm",
    "cover.style": "concertina",
    "cover.panels": 8,
}


def plots(changes: dict[str, Any] | None = None) -> Plan:
    return planned(changes or {}, PLOTS)


def cut(made: Plan) -> list[tuple[str, int, float, float]]:
    return [(p.name, p.count, round(p.width, 6), round(p.height, 6)) for p in made.pieces if p.material == "text paper"]


def said(made: Plan) -> str:
    return " ".join(f"{step.title}. {' '.join(step.sentences)}" for step in steps(made))


class TestStrips:
    @pytest.mark.parametrize(
        ("panels", "pieces", "sheets"),
        [
            # 297 / 74.25 = 4 on a last strip, (297 - 12.7) / 74.25 = 3.8 beside a tab; 3 x 74.25 + 12.7 = 235.45
            (2, [("panel strip", 1, 148.5, 105)], 1),
            (4, [("panel strip", 1, 297, 105)], 1),
            (5, [("panel strip", 1, 235.45, 105), ("last panel strip", 1, 148.5, 105)], 1),
            (7, [("panel strip", 1, 235.45, 105), ("last panel strip", 1, 297, 105)], 1),
            (8, [("panel strip", 2, 235.45, 105), ("last panel strip", 1, 148.5, 105)], 2),
            (10, [("panel strip", 2, 235.45, 105), ("last panel strip", 1, 297, 105)], 2),
        ],
    )
    def test_as_many_as_go_with_a_tab_on_all_but_the_last(self, panels: int, pieces: list[Any], sheets: int):
        made = plots({"cover.panels": panels})
        assert cut(made) == pieces
        assert made.text_block.sheets == sheets  # two strips of 105 mm across 210
        assert (made.text_block.leaves, made.text_block.pages) == (panels, 2 * panels)
        assert made.text_block.thickness == pytest.approx(panels * 0.15)

    @settings(deadline=None, derandomize=True, max_examples=150)
    @given(st.integers(2, 200), st.tuples(*[st.floats(30, 200)] * 2), st.tuples(*[st.floats(250, 900)] * 2), st.floats(3, 25))
    def test_all_panels_are_there_and_every_strip_goes_on_the_sheet(self, panels, panel, sheet, tab):
        shared = strips.divided(panels, Paper(Size(*panel), Size(*sheet), "long", None), tab)
        assert shared.possible
        assert shared.full * shared.each + shared.last == panels
        longest = max(shared.full_length if shared.full else 0.0, shared.last_length)
        ways = box(0, 0, longest, panel[1]), box(0, 0, panel[1], longest)
        assert any(box(0, 0, *sheet).buffer(1e-3).contains(way) for way in ways)

    def test_along_the_side_that_gives_most_panels_to_a_strip(self):
        # along 297: (297 - 12.7) / 74.25 = 3; along 210: (210 - 12.7) / 74.25 = 2
        made = plots({"text_block.grain": "long"})
        assert cut(made)[0][2] == pytest.approx(235.45)
        assert made.text_block.grain == "across"
        assert "folds" in warnings({"text_block.grain": "long"}, PLOTS)["text_block.grain"].what

    @pytest.mark.parametrize("grain", ["long", "short"])
    def test_of_equal_ways_the_one_whose_grain_runs_along_the_folds(self, grain: str):
        # a panel 90 x 100 on 200 x 210: two go on either side; a strip along the side across the grain has it along its folds
        shared = strips.divided(2, Paper(Size(90, 100), Size(200, 210), grain, None), 10)
        assert (shared.last, shared.grain) == (2, "head to tail")

    def test_a_square_sheet_is_turned_to_the_grain(self):
        assert strips.divided(12, Paper(Size(70, 100), Size(300, 300), "long", None), 10).grain == "head to tail"

    def test_one_strip_where_only_the_leaf_is_known(self):
        made = planned({}, SHORE)
        assert cut(made) == [("panel strip", 1, 640, 110)]  # 8 x 80
        assert made.text_block.sheets is None
        assert warnings({}, SHORE) == {}

    def test_a_strip_over_a_metre_asks_for_the_sheet(self):
        assert "text_block.leaf" not in warnings({"cover.panels": 12}, SHORE)  # 960 mm
        assert "1040 mm" in warnings({"cover.panels": 13}, SHORE)["text_block.leaf"].what.replace(",", "")

    def test_folios_give_two_panels_each(self):
        made = planned({"cover.panels": None, "text_block.folios": 3}, SHORE)
        assert made.text_block.leaves == 6
        assert ("cover.panels", "6, two to a folded sheet") in {(d.where, d.value) for d in made.defaults}

    def test_neither_sheets_nor_folios_need_be_written(self):
        assert refusals({}, PLOTS) == {}
        assert set(refusals({"cover.panels": None}, PLOTS)) == {"text_block.sheets"}

    def test_panels_go_before_folios_that_disagree(self):
        made = plots({"text_block.folios": 4})
        assert (made.text_block.leaves, made.text_block.folios, made.text_block.pages) == (10, 5, 20)
        assert "4 folded sheets" in warnings({"text_block.folios": 4}, PLOTS)["cover.panels"].what
        assert "cover.panels" not in warnings({"text_block.folios": 5}, PLOTS)

    def test_tabs_may_take_another_sheet(self):
        # one octavo sheet is 8 panels, but with tabs three strips, and two to a sheet
        changes = {"cover.panels": None, "text_block.sheets": 1}
        assert plots(changes).text_block.sheets == 2
        assert "it takes 2" in warnings(changes, PLOTS)["text_block.sheets"].what

    def test_a_ruler_that_finds_the_panels_a_little_tall_changes_no_strip(self):
        found = {"measured.height": "105.4 mm"}  # two of them are 210.8 on a sheet of 210
        assert plots(found).text_block.sheets == plots().text_block.sheets == 2


class TestCover:
    def test_boards_stand_out_on_all_four_sides(self):
        board = plots().piece("front board")
        assert (board.width, board.height) == pytest.approx((80.25, 111))  # 74.25 + 2 x 3; 105 + 2 x 3

    def test_unequal_squares(self):
        made = plots({"cover.square": {"head": 2, "tail": 5, "fore_edge": 4}})
        assert (made.cover.board_width, made.cover.board_height) == pytest.approx((82.25, 112))  # 74.25 + 8; 105 + 7

    def test_coverings_turned_in_all_round(self):
        made = plots({"cover.turn_in": {"head": 12, "tail": 15, "fore_edge": 14}})
        for face in ("front", "back"):
            paper = made.piece(f"{face} covering")
            assert (paper.width, paper.height) == pytest.approx((108.25, 138))  # 80.25 + 28; 111 + 12 + 15
            assert_true_outline(paper.outline)
            layout = next(one for one in made.layouts_of("wrap outline") if one.title == face)
            place = box(*layout.part(f"{face} board place").box)
            assert place.bounds == pytest.approx((14, 15, 94.25, 126))
            assert polygon(paper.outline).contains(place)
            # four mitres: 1.5 x 2 = 3 mm of paper left at each corner
            assert [polygon(paper.outline).exterior.distance(corner) for corner in _corners(place)] == pytest.approx([3] * 4)

    def test_no_lining_and_no_joint(self):
        made = plots()
        assert made.layouts_of("lining outline") == ()
        assert (made.cover.joint, made.cover.lining_margin, made.cover.boards_apart) == (None, None, None)
        assert set(refusals({"cover.joint": 5}, PLOTS)) == {"cover.joint"}

    @pytest.mark.parametrize(("square", "key"), [("17 mm", "refused"), ("15 mm", "warned"), ("14 mm", "")])
    def test_the_end_panel_reaches_over_the_turn_ins(self, square: str, key: str):
        """Turn-ins of 19.05 mm reach 19.05 - 2 = 17.05 in: 17 leaves 0.05, 15 leaves 2.05, 14 leaves 3.05 mm."""
        changes = {"cover.square": square}
        if key == "refused":
            changes["cover.turn_in"] = "19 mm"  # 17 - 17 = 0
            assert set(refusals(changes, PLOTS)) == {"cover.square"}
        else:
            assert ("cover.turn_in" in warnings(changes, PLOTS)) is (key == "warned")

    def test_a_wide_head_square_bares_the_corner_where_the_fore_edge_turn_in_is_short(self):
        # at the corner a head square reaches to t_fore - B + s = 8 - 2 + (1.41421 x 3 - 2) = 8.243, though t_head - B = 18
        narrow = {"cover.turn_in": {"head": 20, "tail": 20, "fore_edge": 8}}
        bare = {**narrow, "cover.square": {"head": 8.5, "tail": 3, "fore_edge": 3}}
        assert set(refusals(bare, PLOTS)) == {"cover.square"}
        assert refusals({**narrow, "cover.square": {"head": 8.2, "tail": 3, "fore_edge": 3}}, PLOTS) == {}

    def test_the_fold_guide_is_a_panel_and_a_tab(self):
        (layout,) = plots().layouts_of("fold guide")
        assert layout.part("fold guide").box.size == pytest.approx((86.95, 105))  # 74.25 + 12.7
        assert layout.part("fold").points == ((74.25, 3), (74.25, 102))
        assert polygon(layout.part("fold guide").points).is_valid
        assert layout.part("fold").points[0] in layout.part("fold guide").points


class TestNoSewing:
    def test_the_plan_is_empty_of_it(self):
        sewing = plots().sewing
        assert (sewing.pattern, sewing.stations, sewing.holes, sewing.thread_length) == ("none", (), (), 0)
        found = plan_as_json(plots())
        assert (found["sewing"]["steps"], found["sewing"]["cover_stations"]) == ([], [])
        assert json.loads(json.dumps(found, allow_nan=False)) == found

    def test_no_chapter_and_no_step_speaks_of_it(self):
        made = plots()
        assert not any(chapter.title.startswith(("Sewing", "Stations", "Holes")) for chapter in chapters(made))
        assert "sewing" not in plan_table(made).lower().replace("sewing.pattern", "")
        assert not any(word in said(made).lower() for word in ("thread", "needle", "station", "sew ", "section"))
        assert {"punch guide", "cover punch guide"}.isdisjoint(layout.plate for layout in made.layouts)

    def test_it_has_no_keys_and_no_other_sewing_goes(self):
        assert set(refusals({"sewing.spacing": 10}, PLOTS)) == {"sewing.spacing"}
        assert '"none"' in refusals({"sewing.pattern": "chain"}, PLOTS)["sewing.pattern"].hint
        assert "sewing.pattern" in refusals({"sewing.pattern": "none", "cover.style": "taped", "cover.panels": None}, PLOTS)


class TestSteps:
    def test_free_edges(self):
        assert "both free edges lie on one side, the fore-edge" in said(plots())
        assert "opposite sides" in said(plots({"cover.panels": 9}))
        assert "opposite sides" in warnings({"cover.panels": 9}, PLOTS)["cover.panels"].what

    def test_strips_are_joined_only_where_there_are_several(self):
        several, one = ({step.picture for step in steps(plots({"cover.panels": n}))} for n in (10, 4))
        assert several - one == {"join strips"}
        assert {"cut strips", "fold strips", "paste ends", "cut boards", "glue covering", "turn in"} <= one

    @pytest.mark.parametrize(("panels", "halved"), [(2, True), (3, False), (4, True), (6, False), (8, True)])
    def test_halves_and_quarters_where_they_come_out(self, panels: int, halved: bool):
        made = planned({"cover.panels": panels}, SHORE)
        assert ("the fold in the middle" in said(made)) is halved
        assert ("plain end level" in said(made)) is not halved

    def test_a_tab_thickens_and_the_steps_say_so(self):
        assert "one layer of paper thicker" in said(plots())

    def test_they_name_only_what_the_pack_holds(self):
        text, plates = said(plots()), {layout.plate for layout in plots().layouts}
        for plate in ("punch guide", "fold guide", "board outline", "wrap outline", "lining outline", "spacer"):
            assert (plate in text) is (plate in plates) or plate == "board outline", plate


class TestRefusals:
    @pytest.mark.parametrize(
        ("changes", "where"),
        [
            ({"cover.panels": 1}, "cover.panels"),
            ({"text_block.sections": 2}, "text_block.sections"),
            ({"cover.tab": "80 mm"}, "cover.tab"),
            ({"text_block.trim": "2 mm"}, "text_block.trim"),
            ({"cover.mitre": "1 mm"}, "cover.mitre"),
            ({"cover.panels": 0}, "cover.panels"),
        ],
    )
    def test_what_makes_no_concertina(self, changes: dict[str, Any], where: str):
        assert set(refusals(changes, PLOTS)) == {where}

    def test_a_sheet_that_does_not_give_a_panel_and_a_tab(self):
        folio = {"text_block.format": "folio", "text_block.sheet": "A5", "cover.panels": 4, "cover.tab": "60 mm"}
        # panel 105 x 148; along 210: 105 + 60 = 165 goes
        assert refusals(folio, PLOTS) == {}
        oblong = {**folio, "text_block.orientation": "oblong"}
        # panel 148 x 105; along 210: 148 + 60 = 208 goes, and with a tab of 70 it does not
        assert refusals(oblong, PLOTS) == {}
        assert set(refusals({**oblong, "cover.tab": "70 mm"}, PLOTS)) == {"text_block.sheet"}


@pytest.mark.parametrize("base", [PLOTS, SHORE], ids=["strips", "one strip"])
@pytest.mark.parametrize("opening", ["left", "right"])
def test_a_pack_is_made_and_measures_as_planned(base: dict[str, Any], opening: str):
    made = make_pack(toml({**base, "text_block.opening": opening}))
    assert made.verified.largest_difference <= 0.01


def _corners(place: Any) -> list[Any]:
    from shapely.geometry import Point

    return [Point(at) for at in list(place.exterior.coords)[:4]]
