"""Coverings that stop under the tape, and turn-ins made up by strips: sizes typed by hand, insides judged by another library."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

import handbook as h
from bookplates.book.as_json import plan_as_json
from bookplates.book.record import Plan
from bookplates.handout.facts import chapters
from bookplates.handout.steps import steps, text_of
from bookplates.pipeline import make_pack, verify
from bookplates.readback import measure_pdf
from page_check import findings
from shapes import ORCHARD, POOL, Written, assert_true_outline, changed, planned, polygon, refusals, toml, warnings

FACES = ("front", "back")
LAP = {"tape.lap": "1/2 in"}
JOIN = {"cover.join": "6 mm"}
UNEQUAL = {"head": 15, "tail": 20, "fore_edge": 18}
EXPOSED = {
    "title": "Rock pool ledger",
    "text_block.leaf": "100 x 150 mm",
    "text_block.folios": 32,
    "text_block.sections": 4,
    "text_block.caliper": "0.1 mm",
    "cover.style": "exposed",
}


def orchard(*changes: Written) -> Plan:
    """The check book: on 4 in of tape, 4 mm thick, joint 1/4 in; boards 104.775 x 146.05 mm."""
    return planned({key: value for change in changes for key, value in change.items()}, ORCHARD)


def size(made: Plan, name: str) -> tuple[float, float]:
    return made.piece(name).width, made.piece(name).height


def wrap(made: Plan, face: str) -> Any:
    return next(layout for layout in made.layouts_of("wrap outline") if layout.title == face)


def rows(made: Plan) -> dict[str, str]:
    return {fact.name: fact.value for chapter in chapters(made) for fact in chapter.facts}


def step(made: Plan, title: str) -> str:
    return next((text_of(told) for told in steps(made) if told.title == title), "")


class TestLap:
    def test_the_check_book(self):
        """Handbook TI12, 1/2 in, as Bean & Brodhead lap a hinge's cloth on the board: the lap usual for a covering, too."""
        made = orchard(LAP)
        # boards apart 4 + 2 x 6.35 = 16.7; tape on each board (101.6 - 16.7) / 2 = 42.45
        # width 104.775 + 25.4 - 42.45 + 12.7 = 100.425; height 146.05 + 2 x 25.4 = 196.85
        for face in FACES:
            assert size(made, f"{face} covering") == pytest.approx((100.425, 196.85))
        assert made.tape.lap == pytest.approx(float(h.TI12_LAP_IN) * 25.4)
        assert made.tape.short == pytest.approx(29.75)  # 42.45 - 12.7

    def test_two_of_the_check_book_take_one_sheet(self):
        wide, high = size(orchard(LAP), "front covering")
        assert 2 * wide <= 203.2  # 8 in; 2 x 100.425 = 200.85
        assert high <= 203.2

    def test_without_it_they_go_to_the_spine_edge(self):
        made = orchard()
        assert size(made, "front covering") == pytest.approx((130.175, 196.85))  # 104.775 + 25.4
        assert (made.tape.lap, made.tape.short) == (None, 0)

    def test_json(self):
        assert plan_as_json(orchard(LAP))["tape"]["lap"] == pytest.approx(12.7)
        assert plan_as_json(orchard())["tape"]["lap"] is None

    @pytest.mark.parametrize("opening", ["left", "right"])
    def test_what_is_saved_lies_under_the_tape(self, opening):
        """On the outside: the board bare of paper is a strip along its spine edge, the tape hides it and 1/2 in of the paper."""
        made = orchard(LAP, {"text_block.opening": opening})
        for face in FACES:
            layout, right = wrap(made, face), (face == "front") == (opening == "left")
            paper, board = polygon(layout.part(f"{face} covering").points), polygon(layout.part(f"{face} board place").points)
            spine = board.bounds[2] if right else board.bounds[0]
            tape = box(spine - 42.45, -50, spine, 250) if right else box(spine, -50, spine + 42.45, 250)
            bare = board.difference(paper)
            assert bare.area == pytest.approx(29.75 * 146.05)  # short, by the height of the board
            assert bare.difference(tape).area == pytest.approx(0, abs=1e-6)
            assert tape.intersection(paper).intersection(board).area == pytest.approx(12.7 * 146.05)
            assert paper.bounds[0 if right else 2] == pytest.approx(board.bounds[0 if right else 2] + (-25.4 if right else 25.4))

    @pytest.mark.parametrize("face", FACES)
    def test_it_is_the_whole_covering_less_a_strip(self, face):
        whole, cut = (polygon(orchard(change).piece(f"{face} covering").outline) for change in ({}, LAP))
        put = cut if face == "front" else translate(cut, 29.75)  # the back covering begins at its spine edge
        assert put.difference(whole).area == pytest.approx(0, abs=1e-6)
        assert whole.difference(put).area == pytest.approx(29.75 * 196.85)

    def test_places_and_pricks_by_hand(self):
        # board 97 x 156 (100 + 3 - 6; 150 + 6), 1.6 thick block: apart 13.6, tape (81.6 - 13.6) / 2 = 34, lap 12: 22 short
        changes = {"cover.square": 3, "cover.joint": 6, "cover.turn_in": UNEQUAL, "cover.lining_margin": 5}
        made = planned({**changes, "tape.width": 81.6, "tape.lap": 12})
        assert size(made, "back covering") == pytest.approx((93, 191))  # 97 + 18 - 22; 156 + 15 + 20
        back, front = wrap(made, "back"), wrap(made, "front")
        assert tuple(back.part("back board place").box) == pytest.approx((-22, 20, 75, 176))
        assert tuple(front.part("front board place").box) == pytest.approx((18, 20, 115, 176))
        pricks = [part.box.middle for part in back.named("back prick")]
        assert pricks == [pytest.approx(at) for at in ((0, 20), (75, 20), (75, 176), (0, 176))]
        pricks = [part.box.middle for part in front.named("front prick")]
        assert pricks == [pytest.approx(at) for at in ((18, 20), (93, 20), (93, 176), (18, 176))]

    @settings(deadline=None, derandomize=True, max_examples=30)
    @given(st.floats(3, 20), st.floats(60, 120), st.sampled_from(["left", "right"]))
    def test_outlines(self, lap, tape, opening):
        made = planned({"tape.lap": lap, "tape.width": tape, "text_block.opening": opening})
        for face in FACES:
            assert_true_outline(made.piece(f"{face} covering").outline)
            paper, place = polygon(made.piece(f"{face} covering").outline), wrap(made, face).part(f"{face} board place").box
            for at in wrap(made, face).named(f"{face} prick"):
                assert paper.buffer(1e-6).contains(box(*at.box).centroid)
            assert place.size == pytest.approx((96.825, 156.35))

    def test_nothing_else_changes(self):
        """Boards, linings, tape and guides are the same; so is the lining flush at the spine edge."""
        with_lap, without = orchard(LAP), orchard()
        others = [layout for layout in without.layouts if layout.title not in FACES]
        assert [layout for layout in with_lap.layouts if layout.title not in FACES] == others
        papers = [piece for piece in without.pieces if not piece.name.endswith("covering")]
        assert [piece for piece in with_lap.pieces if not piece.name.endswith("covering")] == papers
        assert with_lap.tape.length == without.tape.length

    def test_its_width_hangs_on_the_thickness(self):
        measured = {"measured.width": "107.95 mm", "measured.height": "139.7 mm"}
        assert "covering width" not in orchard(measured).provisional
        assert "covering width" in orchard(LAP, measured).provisional
        assert "covering width" not in orchard(LAP, measured, {"measured.thickness": "4 mm"}).provisional

    def test_the_words(self):
        made = orchard(LAP)
        assert rows(made)["covering under the tape"] == "1/2 in (12.7 mm)"
        assert "29.75 mm" in rows(made)["covering off the spine edge"]
        glued, taped = step(made, "Cut and glue the coverings"), step(made, "Lay the tape")
        assert "rule a pencil line 29.75 mm" in glued
        assert "flush" not in glued
        assert "1/2 in (12.7 mm) of each covering" in taped
        usual = orchard()
        assert "flush with the paper at the spine edge" in step(usual, "Cut and glue the coverings")
        assert "of each covering" not in step(usual, "Lay the tape")
        assert not {"covering under the tape", "covering off the spine edge"} & set(rows(usual))


# Tape lies on each board by 42.45; coverings that lap less than that stop short
class TestLapLimits:
    @pytest.mark.parametrize(("lap", "refused"), [(42.44, False), (42.45, True), (60, True)])
    def test_it_is_shorter_than_the_tape_on_the_board(self, lap, refused):
        found = refusals({"tape.lap": lap}, {**ORCHARD, "units": "mm"})
        assert ("tape.lap" in found) == refused
        if refused:
            assert "leave it out" in found["tape.lap"].hint
            assert "42.45 mm" in found["tape.lap"].hint

    @pytest.mark.parametrize(("lap", "outside"), [(2.9, True), (3, False), (300, False), (300.1, True)])
    def test_range(self, lap, outside):
        found = refusals({"tape.lap": lap}).get("tape.lap")
        assert (found is not None and "out of range" in found.what) == outside

    @pytest.mark.parametrize(("lap", "warned"), [(5.9, True), (6, False), (12.7, False)])
    def test_an_edge_that_may_show(self, lap, warned):
        assert ("tape.lap" in warnings({"tape.lap": lap})) == warned

    # The pool book: board 96.825, turn-in 25.4, mitre 3. The cut meets the head 96.825 + 4.243 - 25.4 = 75.668 from the spine
    # edge. A tape of 200 lies on it by (200 - 14.3) / 2 = 92.85, so the paper begins at the cut with a lap of 17.182
    @pytest.mark.parametrize(("lap", "refused"), [(17.1, True), (17.2, False)])
    def test_it_stops_before_the_mitres(self, lap, refused):
        assert ("tape.lap" in refusals({"tape.lap": lap, "tape.width": 200})) == refused

    def test_it_goes_with_taped_alone(self):
        assert "tape" in next(iter(refusals({"tape.lap": 12, "cover.style": "wrapper", "sewing.pattern": "pamphlet"})))


def inside_near_the_spine(made: Plan, turned: float, margin: float) -> BaseGeometry:
    """What stays bare inside, where no covering was turned in: the lining from `margin`, the tape's two ends over it."""
    high, short = made.cover.board_height, made.tape.short
    lining = box(0, margin, short, high - margin)
    ends = (box(0, 0, made.tape.on_board, turned), box(0, high - turned, made.tape.on_board, high))
    return box(0, 0, short, high).difference(unary_union([lining, *ends]))


class TestInsideWithTapeTurnedIn:
    """Tape that is only turned over head and tail has to reach the lining; 3 mm to spare: common practice, no source."""

    @pytest.mark.parametrize(
        ("turned", "refused", "warned"),
        [(9, True, False), (9.525, True, False), (9.6, False, True), (12.5, False, True), (12.53, False, False)],
    )
    def test_bare_board(self, turned, refused, warned):
        changes = {**LAP, "tape.inside": "turn-in", "tape.turn_in": f"{turned} mm"}
        assert ("tape.turn_in" in refusals(changes)) == refused
        assert ("tape.turn_in" in (() if refused else warnings(changes))) == warned
        seen = inside_near_the_spine(planned(LAP), turned, 9.525)  # the lining's margin, 3/8 in
        assert (seen.area > 0) == (turned < 9.525)

    def test_without_a_lap_it_does_not_matter(self):
        changes = {"tape.inside": "turn-in", "tape.turn_in": "5 mm"}
        assert "tape.turn_in" not in refusals(changes)

    def test_tape_that_lines_the_inside_hides_it_all(self):
        made = orchard(LAP)
        tape, high = made.tape, made.cover.board_height
        # from the head edge over the inside as far as the head end goes, from the tail edge as far as the tail end goes
        assert (tape.hang_head - 2) + (tape.hang_tail - 2) >= high
        assert tape.on_board > tape.short
        assert not {"tape.turn_in", "tape.lap"} & set(warnings(LAP, ORCHARD))


class TestJoin:
    def test_the_check_book(self):
        made = orchard(JOIN)
        # turn-in 2 + 9.525 + 6 = 17.525; 104.775 + 17.525 = 122.3; 146.05 + 2 x 17.525 = 181.1
        for face in FACES:
            assert size(made, f"{face} covering") == pytest.approx((122.3, 181.1))
        cover = made.cover
        assert (cover.turn_in_head, cover.turn_in_tail, cover.turn_in_fore_edge) == pytest.approx((17.525,) * 3)
        assert cover.join == 6
        # lining 104.775 - 9.525 = 95.25 by 146.05 - 19.05 = 127; strips 25.4 - 2 - 9.525 = 13.875 deep; 127 - 27.75 = 99.25
        assert size(made, "head turn-in strip") == size(made, "tail turn-in strip") == pytest.approx((95.25, 13.875))
        assert size(made, "fore-edge turn-in strip") == pytest.approx((13.875, 99.25))
        strips = [piece for piece in made.pieces if piece.name.endswith("strip")]
        assert [(piece.count, piece.material, piece.grain) for piece in strips] == [(2, "cover paper", "head to tail")] * 3

    def test_with_a_lap(self):
        made = orchard(JOIN, LAP)
        assert size(made, "front covering") == pytest.approx((92.55, 181.1))  # 104.775 + 17.525 - 29.75
        assert size(made, "head turn-in strip") == pytest.approx((65.5, 13.875))  # 95.25 - 29.75: it stops with the covering
        assert size(made, "fore-edge turn-in strip") == pytest.approx((13.875, 99.25))

    def test_only_the_sides_that_are_cut_have_strips(self):
        # 2 + 5 + 5 = 12: head 15 and tail 20 are cut, the fore-edge's 11 is not. Strips 15 - 7 = 8 and 20 - 7 = 13
        turn_in = {"head": 15, "tail": 20, "fore_edge": 11}
        made = planned({"cover.turn_in": turn_in, "cover.lining_margin": 5, "cover.join": 5})
        assert size(made, "back covering") == pytest.approx((107.825, 180.35))  # 96.825 + 11; 156.35 + 24
        strips = {piece.name: (piece.width, piece.height) for piece in made.pieces if piece.name.endswith("strip")}
        assert set(strips) == {"head turn-in strip", "tail turn-in strip"}
        assert strips["head turn-in strip"] == pytest.approx((91.825, 8))  # 96.825 - 5
        assert strips["tail turn-in strip"] == pytest.approx((91.825, 13))

    def test_exposed_by_hand(self):
        # board 103.175 x 156.35, margin 3.175: turn-ins 2 + 3.175 + 5 = 10.175 on four sides; lining 96.825 x 150
        # strips 15 - 5.175 = 9.825; 20 - 5.175 = 14.825; 18 - 5.175 = 12.825; 150 - 9.825 - 14.825 = 125.35
        made = planned({"cover.turn_in": UNEQUAL, "cover.join": 5}, EXPOSED)
        for face in FACES:
            assert size(made, f"{face} covering") == pytest.approx((123.525, 176.7))
        assert size(made, "head turn-in strip") == pytest.approx((96.825, 9.825))
        assert size(made, "tail turn-in strip") == pytest.approx((96.825, 14.825))
        for side in ("fore-edge", "spine edge"):
            assert size(made, f"{side} turn-in strip") == pytest.approx((12.825, 125.35))

    @pytest.mark.parametrize("base", [ORCHARD, EXPOSED], ids=["taped", "exposed"])
    def test_without_it_nothing_is_cut(self, base):
        made = planned({}, base)
        assert made.cover.join is None
        assert plan_as_json(made)["cover"]["join"] is None
        assert not [piece for piece in made.pieces if "strip" in piece.name]
        assert "Paste the turn-in strips" not in [told.title for told in steps(made)]

    def test_json(self):
        said = plan_as_json(orchard(JOIN))
        assert said["cover"]["join"] == 6
        assert [piece["count"] for piece in said["pieces"] if piece["name"].endswith("strip")] == [2, 2, 2]

    def test_the_width_of_level_strips_hangs_on_the_board(self):
        told = orchard(JOIN).provisional
        assert {"head turn-in strip", "tail turn-in strip"} <= set(told)
        assert "fore-edge turn-in strip" not in told
        measured = {"measured.width": "107.95 mm", "measured.height": "139.7 mm", "measured.thickness": "4 mm"}
        assert orchard(JOIN, LAP, measured).provisional == ()
        assert "tail turn-in strip" in planned({"cover.join": 5}, EXPOSED).provisional

    def test_when_the_strips_are_pasted(self):
        """After the board is glued to its covering, before that is turned in over them; they have no template, and it says so."""
        for made in (orchard(JOIN), planned({"cover.join": 5}, EXPOSED)):
            titles = [told.title for told in steps(made)]
            pasted = titles.index("Paste the turn-in strips")
            assert titles[pasted - 1 : pasted + 3] == [
                "Cut and glue the coverings", "Paste the turn-in strips", "Mitre and turn in", "Line the boards",
            ]  # fmt: skip
            assert "no template" in step(made, "Paste the turn-in strips")
        assert "13.88 mm (about 17/32 in) by 3 29/32 in (99.25 mm) (fore-edge)" in step(orchard(JOIN), "Paste the turn-in strips")
        assert "at most 17.53 mm" in step(orchard(JOIN), "Mitre and turn in")
        assert rows(orchard(JOIN))["turn-ins lap over their strips"].endswith("(6 mm)")


def inside(made: Plan, asked: float) -> tuple[BaseGeometry, BaseGeometry, BaseGeometry, BaseGeometry]:
    """On the inside of a back board, its spine edge at x = 0: lining, strips as the steps lay them, turn-ins cut and asked for.

    The margin is that of the lining on all its sides; a board of 2 mm takes so much of each turn-in to go round.
    """
    cover, margin = made.cover, made.cover.lining_margin
    wide, high = cover.board_width, cover.board_height
    left = margin if cover.style == "exposed" else 0.0
    lining = box(left, margin, wide - margin, high - margin)
    sizes = {piece.name.removesuffix(" turn-in strip"): (piece.width, piece.height) for piece in made.pieces}
    (long, deep), (across, up) = sizes["head"], sizes["fore-edge"]
    strips = [
        box(wide - margin - long, high - margin - deep, wide - margin, high - margin),
        box(wide - margin - long, margin, wide - margin, margin + deep),
        box(wide - margin - across, margin + deep, wide - margin, margin + deep + up),
        *([box(left, margin + deep, left + across, margin + deep + up)] if left else []),
    ]
    begins = made.tape.short if made.tape else 0.0

    def turned(turn_in: float) -> BaseGeometry:
        reach = turn_in - 2
        free = box(begins + (reach if left else 0), reach, wide - reach, high - reach)
        return box(begins, 0, wide, high).difference(free)

    assert sum(strip.area for strip in strips) == pytest.approx(unary_union(strips).area)  # none lies on another
    return lining, unary_union(strips), turned(cover.turn_in_head), turned(asked)


class TestInsideWithStrips:
    @pytest.mark.parametrize(
        ("made", "asked", "join"),
        [
            (orchard(JOIN), 25.4, 6),
            (orchard(JOIN, LAP), 25.4, 6),
            (planned({"cover.join": 3}, EXPOSED), 19.05, 3),
        ],
        ids=["taped", "with a lap", "exposed"],
    )
    def test_they_make_the_turn_ins_up_and_never_show(self, made, asked, join):
        lining, strips, cut, whole = inside(made, asked)
        assert strips.difference(lining).area == pytest.approx(0, abs=1e-6)  # the lining hides every strip
        assert whole.difference(unary_union([strips, cut])).area == pytest.approx(0, abs=1e-6)  # nothing of it is missing
        assert unary_union([strips, cut]).difference(whole).area == pytest.approx(0, abs=1e-6)
        # the turn-ins lap over every strip by the join, as far as the lining's edge: none shows that lies askew
        left, low, right, high = lining.bounds
        seen = strips.difference(cut.buffer(1e-6)).bounds
        assert (seen[1], seen[2], seen[3]) == pytest.approx((low + join, right - join, high - join), abs=1e-5)
        assert seen[0] == pytest.approx(left + join if left else made.tape.short, abs=1e-5)  # the tape covers the spine edge

    def test_the_covering_reaches_under_the_lining(self):
        lining, _, cut, _ = inside(orchard(JOIN), 25.4)
        board = box(0, 0, 104.775, 146.05)
        assert board.difference(unary_union([lining, cut])).area == pytest.approx(0, abs=1e-6)


class TestJoinLimits:
    # 25.4 - 2 - 9.525 = 13.875: there the cut turn-in is as wide as the one asked for
    @pytest.mark.parametrize(("join", "refused"), [(13.87, False), (13.875, True), (50, True)])
    def test_it_makes_the_turn_in_smaller(self, join, refused):
        found = refusals({"cover.join": join})
        assert ("cover.join" in found) == refused
        if refused:
            assert "less than 13.87 mm, or leave it out" in found["cover.join"].hint

    def test_the_widest_turn_in_decides(self):
        # margin 9.525: head 12, tail 14 and fore-edge 20 leave 0.475, 2.475 and 8.475
        changes = {"cover.turn_in": {"head": 12, "tail": 14, "fore_edge": 20}, "cover.join": 8.4}
        assert "cover.join" not in refusals(changes)
        assert "cover.join" in refusals({**changes, "cover.join": 8.5})

    @pytest.mark.parametrize(("join", "outside"), [(2.9, True), (3, False), (50, False), (50.1, True)])
    def test_range(self, join, outside):
        found = refusals({"cover.join": join}, EXPOSED).get("cover.join")
        assert (found is not None and "out of range" in found.what) == outside

    def test_a_mitre_is_judged_by_the_real_turn_in(self):
        # cut turn-ins of 17.525: a cut misses the paper from 17.525 x 1.414214 = 24.784, with the 25.4 asked for from 35.921
        for mitre, refused in ((24.78, False), (24.79, True)):
            found = refusals({"cover.join": 6, "cover.mitre": mitre})
            assert ("cover.mitre" in found) == refused
        assert "a larger cover.join" in found["cover.mitre"].hint
        assert "cover.mitre" not in refusals({"cover.mitre": 24.79})

    def test_a_lining_is_judged_by_the_real_turn_in(self):
        # it reaches over the cut turn-in by the join itself: 3 mm is enough
        assert "cover.lining_margin" not in warnings({"cover.join": 3})
        assert "cover.lining_margin" in refusals({"cover.join": 3, "cover.lining_margin": 23.5})  # 25.4 - 2 = 23.4

    def test_strips_that_meet(self):
        # lining 96.825 - 9.525 = 87.3 wide, 156.35 - 19.05 = 137.3 high: two strips 100 - 11.525 = 88.475 deep meet
        found = refusals({"cover.turn_in": 100, "cover.join": 6})
        assert "would meet" in found["cover.turn_in"].what
        assert "cover.turn_in" not in refusals({"cover.turn_in": 75, "cover.join": 6})  # 63.475: 126.95 of 137.3

    def test_it_goes_with_two_styles(self):
        for style in ("case", "wrapper", "side-sewn", "concertina"):
            assert "cover.join" in refusals({"cover.style": style, "cover.join": 6})


PACKS: dict[str, tuple[Written, Written]] = {
    "lap": (LAP, ORCHARD),
    "join": (JOIN, ORCHARD),
    "both, opening right, mm": (
        {
            "text_block.opening": "right", "cover.join": 5, "cover.lining_margin": 5, "cover.turn_in": UNEQUAL,
            "tape.width": 80, "tape.inside": "turn-in", "tape.lap": 12, "print.paper": "A4",
        },
        POOL,
    ),
    "both, opening right, in": ({**LAP, **JOIN, "text_block.opening": "right"}, ORCHARD),
    "exposed": ({"cover.join": 5, "cover.turn_in": UNEQUAL}, EXPOSED),
    "exposed, opening right, in": ({"cover.join": "3 mm", "text_block.opening": "right", "units": "in"}, EXPOSED),
}  # fmt: skip


@pytest.mark.parametrize("name", PACKS)
def test_packs(name: str, tmp_path: Path) -> None:
    """Each verifies, also read back by itself, its coverings measure as planned, and nothing on its pages meets."""
    source = toml(changed(PACKS[name][1], PACKS[name][0]))
    made = make_pack(source)
    assert made.verified.largest_difference <= 0.01
    assert verify(made.pdf).verified.largest_difference <= 0.01
    measured = {part.name: part for part in measure_pdf(made.pdf).parts if part.plate == "wrap outline"}
    worked_out = planned(*PACKS[name])
    for face in FACES:
        found = measured[f"{face} covering"]
        assert sorted((found.width, found.height)) == pytest.approx(sorted(size(worked_out, f"{face} covering")), abs=0.01)
        place = measured[f"{face} board place"]
        assert sorted((place.width, place.height)) == pytest.approx(sorted(size(worked_out, f"{face} board")), abs=0.01)
    file = tmp_path / "pack.pdf"
    file.write_bytes(made.pdf)
    assert findings(str(file)) == []
