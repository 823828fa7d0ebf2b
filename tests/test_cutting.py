"""Cutting plans: every sheet is cut up again here, step by step, by code that shares nothing with the program's."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import STRtree
from shapely.geometry import box as rectangle

from bookplates.geometry import Size
from bookplates.workshop.cutting.engine import bound, cut_up
from bookplates.workshop.cutting.order import Step, parts, steps
from bookplates.workshop.cutting.roll import cut_rolls, off_roll
from bookplates.workshop.cutting.tree import Cut, CutSheet, Node, Offcut, Put, Want, nodes, offcuts, placed, puts, stops

MADE_WITHIN = 0.003  # mm: finer than anybody cuts

Rectangle = tuple[float, float, float, float]
"""Left, bottom, width, height."""


def times_set(done) -> int:
    """How often the stop is set on the way through the steps."""
    order = [(step.upright, round(step.stop, 3)) for step in done]
    return sum(1 for at, setting in enumerate(order) if at == 0 or order[at - 1] != setting)


def replay(sheet: Size, cuts: tuple[Step, ...], blade: float) -> dict[int, Rectangle]:
    """Take a sheet, make the cuts in their order, and say which numbered parts lie there in the end."""
    in_hand: dict[int, Rectangle] = {0: (0.0, 0.0, *sheet)}
    for number, cut in enumerate(cuts, 1):
        assert cut.number == number
        left, bottom, width, height = in_hand.pop(cut.part)  # a part that has not come off yet, or is used up, is not in hand
        across = width if cut.upright else height
        assert 0 < cut.stop < across
        beyond = across - cut.stop - blade
        if cut.upright:  # the blade falls on a whole edge of the part: what lies before it, and what lies behind it
            pieces = (left, bottom, cut.stop, height), (left + cut.stop + blade, bottom, beyond, height)
        else:
            pieces = (left, bottom, width, cut.stop), (left, bottom + cut.stop + blade, width, beyond)
        assert (cut.rest is None) == (beyond <= MADE_WITHIN)
        for name, piece in zip((cut.first, cut.rest), pieces, strict=True):
            if name is not None:
                assert name not in in_hand
                in_hand[name] = piece
    return in_hand


def check_sheet(way: CutSheet, wants: list[Want], sheet: Size, blade: float) -> Counter[int]:
    """Cut one sheet up, and hold what lies there in the end against what the plan calls it."""
    lying = replay(sheet, steps(way.tree, blade), blade)
    called = {part.number: part for part in parts(way.tree, blade) if part.finished}
    assert lying.keys() == called.keys()
    found: Counter[int] = Counter()
    for number, (left, bottom, width, height) in lying.items():
        node = called[number].node
        assert called[number].box == pytest.approx((left, bottom, left + width, bottom + height), abs=MADE_WITHIN)
        if isinstance(node, Put):
            want = wants[node.want]
            assert want.turned if node.turned else want.upright
            size = (want.size.height, want.size.width) if node.turned else tuple(want.size)
            assert (width, height) == pytest.approx(size, abs=MADE_WITHIN)
            assert node.size == pytest.approx(size, abs=1e-9)
            found[node.want] += 1
        else:
            assert isinstance(node, Offcut)
            assert min(width, height) > 0.001  # no slivers
            assert node.size == pytest.approx((width, height), abs=1e-5)
    check_places(sheet, lying)
    return found


def check_places(sheet: Size, lying: dict[int, Rectangle]) -> None:
    whole = rectangle(0, 0, *sheet).buffer(MADE_WITHIN)
    shapes = [rectangle(left, bottom, left + width, bottom + height) for left, bottom, width, height in lying.values()]
    assert all(whole.covers(shape) for shape in shapes)
    tree = STRtree(shapes)
    for at, shape in enumerate(shapes):
        for other in tree.query(shape):
            assert other == at or shape.intersection(shapes[other]).area < MADE_WITHIN


def check(wants: list[Want], sheet: Size, blade: float = 0.0) -> tuple[CutSheet, ...]:
    """Cut wants up, replay every different sheet, and count what came out of all."""
    ways = cut_up(wants, sheet, blade)
    found: Counter[int] = Counter()
    for way in ways:
        for want, count in check_sheet(way, wants, sheet, blade).items():
            found[want] += count * way.times
    assert found == Counter({number: want.count for number, want in enumerate(wants) if want.count})
    assert [way.times for way in ways] == sorted((way.times for way in ways), reverse=True)
    return ways


def sheets(ways: tuple[CutSheet, ...]) -> int:
    return sum(way.times for way in ways)


def want(width: float, height: float, count: int, ways: str = "upright") -> Want:
    return Want(Size(width, height), count, upright=ways != "turned", turned=ways != "upright")


LETTER, A0, A4 = Size(215.9, 279.4), Size(841, 1189), Size(210, 297)


class TestAlike:
    """Pieces that are all alike: the count on a sheet by hand."""

    @pytest.mark.parametrize(
        ("piece", "ways", "sheet", "blade", "on_one"),
        [
            ((215.9, 139.7), "upright", LETTER, 0.0, 2),  # 2 x 139.7 = 279.4: quarto folios, two from a Letter sheet
            ((215.9, 139.7), "upright", LETTER, 0.1, 1),  # 279.4 + 0.1 is more than there is
            ((215.9 / 3, 279.4), "upright", LETTER, 0.0, 3),  # thirds of a sheet are three
            ((210, 297), "upright", A0, 0.0, 16),  # ISO 216: 4 x 210 = 840 <= 841, 4 x 297 = 1188 <= 1189
            ((594, 841), "turned", A0, 0.0, 2),  # ISO 216: A1 across A0, 2 x 594 = 1188 <= 1189
            ((594, 841), "turned", A0, 2.0, 1),  # 1188 + 2 = 1190 > 1189
            ((210, 297), "upright", A0, 1.0, 9),  # 3 x 210 + 2 = 632, a fourth needs 843; 3 x 297 + 2 = 893, a fourth 1191
            ((148, 210), "both", A4, 0.0, 2),  # A5, turned: 2 x 148 = 296 <= 297
            ((148, 210), "upright", A4, 0.0, 1),  # upright neither 2 x 148 = 296 <= 210 nor 2 x 210 <= 297
            ((60, 90), "upright", A4, 0.0, 9),  # 210 // 60 = 3, 297 // 90 = 3
            ((20, 30), "both", Size(70, 50), 0.0, 5),  # 3 upright (3 x 20 <= 70) below 2 turned (2 x 30 <= 70), 30 + 20 = 50
            ((20, 30), "both", Size(50, 50), 0.0, 3),  # four go round a hole in the middle, but no cut goes through that
            # 9 x 5 on 33 x 22: a column 18 wide (two turned, four high: 8), the other 15 (three upright, two high: 6) and
            # 4 x 5 = 20 <= 22, 2 x 9 = 18 <= 22, 18 + 15 = 33: 14; a grid holds 12 (3 x 4) or 12 (6 x 2), and by area 16
            ((9, 5), "both", Size(33, 22), 0.0, 14),
        ],
    )
    def test_so_many_come_off_a_sheet(self, piece, ways, sheet, blade, on_one) -> None:
        assert sheets(check([want(*piece, on_one, ways)], sheet, blade)) == 1
        assert sheets(check([want(*piece, on_one + 1, ways)], sheet, blade)) == 2
        assert sheets(check([want(*piece, 7 * on_one, ways)], sheet, blade)) == 7

    @settings(max_examples=60, deadline=None)
    @given(st.integers(2, 7), st.integers(1, 5), st.integers(7, 24), st.integers(7, 24))
    def test_as_many_as_any_divisions_give(self, one, other, width, height) -> None:
        long, short = max(one, other), min(one, other)
        most = by_all_divisions(long, short, width, height)
        if most:
            piece = want(10 * long, 10 * short, most, "both")
            assert sheets(check([piece], Size(10 * width, 10 * height))) == 1
            assert sheets(check([want(10 * long, 10 * short, most + 1, "both")], Size(10 * width, 10 * height))) == 2

    def test_a_grid_takes_two_settings_of_the_stop(self) -> None:
        (way,) = check([want(60, 90, 9)], A4)
        assert stops(way.tree) == {60, 90}
        assert times_set(steps(way.tree, 0.0)) == 2

    def test_halves_take_one_setting(self) -> None:
        (way,) = check([want(215.9, 139.7, 280)], LETTER)
        assert (way.times, stops(way.tree), offcuts(way.tree)) == (140, {139.7}, ())

    def test_fewer_stops_are_better_than_full_sheets(self) -> None:
        """Four a sheet in a grid (2 x 30 <= 70, 2 x 20 <= 50); five by strips both ways; eight take two sheets either way."""
        ways = check([want(20, 30, 8, "both")], Size(70, 50))
        assert sheets(ways) == 2
        assert len(frozenset().union(*(stops(way.tree) for way in ways))) == 2

    def test_the_largest_offcut_is_kept_whole(self) -> None:
        """Three of 60 x 90 on A4: a row leaves 210 x 207 = 43,470, a column at best 150 x 297 = 44,550 square mm."""
        (way,) = check([want(60, 90, 3)], A4)
        assert max(width * height for width, height in offcuts(way.tree)) >= 43_470

    def test_very_many_small_ones_are_no_trouble(self) -> None:
        (way,) = check([want(3, 500, 300)], Size(1000, 500))  # 300 x 3 = 900 <= 1000: one strip, 300 cuts one after the other
        assert len(puts(way.tree)) == 300
        assert sum(1 for _ in placed(way.tree, 0.0)) == sum(1 for _ in nodes(way.tree)) == 601  # 300 pieces, the rest, 300 cuts


@cache
def by_all_divisions(long: int, short: int, width: int, height: int) -> int:
    """How many pieces any divisions of a small sheet give, every whole number tried."""
    if min(width, height) < short or max(width, height) < long:
        return 0
    best = 1
    for at in range(1, width // 2 + 1):
        best = max(best, by_all_divisions(long, short, at, height) + by_all_divisions(long, short, width - at, height))
    for at in range(1, height // 2 + 1):
        best = max(best, by_all_divisions(long, short, width, at) + by_all_divisions(long, short, width, height - at))
    return best


class TestMixed:
    def test_two_kinds_that_fill_a_sheet(self) -> None:
        """A4 cut into a strip of 120 (two of 105) and one of 177 (three of 70): 120 + 177 = 297, no offcut."""
        ways = check([want(105, 120, 24), want(70, 177, 36)], A4)
        assert sheets(ways) == 12
        assert all(not offcuts(way.tree) for way in ways)

    def test_a_blade_takes_that_away(self) -> None:
        assert sheets(check([want(105, 120, 24), want(70, 177, 36)], A4, 0.5)) > 12

    def test_a_kind_goes_where_another_leaves_room(self) -> None:
        """200 x 200 on 300 x 300 leaves 100 beside it and above: two of 100 x 100 go up the side, and three on top."""
        assert sheets(check([want(200, 200, 6), want(100, 100, 30)], Size(300, 300))) == 6

    def test_wants_of_one_size_each_get_their_own(self) -> None:
        ways = check([want(60, 90, 5), want(90, 60, 4, "turned"), want(60, 90, 9)], A4)  # 9 of 60 x 90 on a sheet: 18 on two
        assert sheets(ways) == 2

    def test_a_want_that_goes_on_no_sheet_is_said(self) -> None:
        with pytest.raises(ValueError, match="goes on no sheet"):
            cut_up([want(300, 100, 1)], A4)

    def test_nothing_is_wanted(self) -> None:
        assert cut_up([], A4) == () == cut_up([want(10, 10, 0)], A4)
        assert bound([], A4) == 0

    def test_the_piece_is_the_sheet(self) -> None:
        (way,) = check([want(210, 297, 3)], A4, 2.0)
        assert (way.times, way.tree, steps(way.tree, 2.0)) == (3, Put(0, False, A4), ())

    @pytest.mark.parametrize(("rest", "left"), [(0.0005, None), (0.9, None), (1.5, 0.5)])
    def test_what_the_blade_takes_is_no_offcut(self, rest, left) -> None:
        """A blade of 1 mm, a sheet wider than the piece by so much: half a thousandth is not cut, 0.9 is dust, 1.5 - 1 = 0.5."""
        (way,) = check([want(200, 297, 1)], Size(200 + rest, 297), 1.0)
        assert isinstance(way.tree, Put) == (rest < 0.001)
        assert [size.width for size in offcuts(way.tree)] == ([] if left is None else [pytest.approx(left)])

    def test_many_of_a_few_kinds(self) -> None:
        """4,000 boards, 2 x 111 + 1 = 223 <= 300 and 2 x 146 + 1 = 293 <= 400: four to a sheet, 1,000 sheets."""
        (way,) = check([want(111, 146, 4000)], Size(300, 400), 1.0)
        assert way.times == 1000


LENGTHS = st.integers(50, 6000).map(lambda tenths: tenths / 10)
WAYS = st.sampled_from(["upright", "turned", "both"])


@st.composite
def jobs(draw) -> tuple[list[Want], Size, float]:
    sheet = Size(draw(st.integers(1500, 9000)) / 10, draw(st.integers(1500, 9000)) / 10)
    wants = []
    for width, height, count, ways in draw(
        st.lists(st.tuples(LENGTHS, LENGTHS, st.integers(1, 9), WAYS), min_size=1, max_size=6)
    ):
        size = (width, height) if ways != "turned" else (height, width)
        if size[0] <= sheet.width and size[1] <= sheet.height:
            wants.append(want(width, height, count, ways))
    return wants, sheet, draw(st.sampled_from([0.0, 0.3, 1.0, 4.0]))


class TestAnyJob:
    @settings(max_examples=60, deadline=None)
    @given(jobs())
    def test_every_piece_comes_out_and_no_bound_is_beaten(self, job) -> None:
        wants, sheet, blade = job
        ways = check(wants, sheet, blade)
        assert bound(wants, sheet, blade) <= sheets(ways) <= sum(one.count for one in wants)
        area = sum(one.count * one.size.width * one.size.height for one in wants)
        assert area <= sheets(ways) * sheet.width * sheet.height

    @settings(max_examples=30, deadline=None)
    @given(jobs())
    def test_cutting_a_sheet_in_order_makes_all_cuts_of_the_tree(self, job) -> None:
        wants, sheet, blade = job
        for way in cut_up(wants, sheet, blade):
            cuts = [node for node in nodes(way.tree) if isinstance(node, Cut)]
            order = steps(way.tree, blade)
            assert Counter((cut.upright, cut.stop) for cut in cuts) == Counter((step.upright, step.stop) for step in order)
            assert len({(cut.upright, round(cut.stop, 3)) for cut in cuts}) <= times_set(order) <= max(1, len(cuts)) * bool(cuts)

    @pytest.mark.parametrize("turned", [False, True])
    def test_two_runs_are_the_same(self, turned) -> None:
        code = (
            "from bookplates.workshop.cutting.engine import cut_up\n"
            "from bookplates.workshop.cutting.tree import Want\nfrom bookplates.geometry import Size\n"
            f"wants = [Want(Size(61 + 7 * n, 140 - 5 * n), 3 + n, turned={turned}) for n in range(7)]\n"
            "print(cut_up(wants, Size(635, 965.2), 0.5))\n"
        )
        said = {
            subprocess.run(
                (sys.executable, "-c", code),
                env={**os.environ, "PYTHONHASHSEED": number},
                check=True,
                capture_output=True,
                text=True,
            ).stdout
            for number in ("1", "2")
        }
        assert len(said) == 1 and "Put(" in said.pop()


class TestOrder:
    """A sheet of 100 x 100: a strip of 40, cut at 30, 30; a strip of 60 cut at 50 (numbers by hand)."""

    @staticmethod
    def tree() -> Node:
        small = Size(30, 40)
        strip = Cut(
            Size(100, 40), True, 30, Put(0, False, small), Cut(Size(70, 40), True, 30, Put(0, False, small), Offcut(small))
        )
        other = Cut(Size(100, 60), True, 50, Put(1, False, Size(50, 60)), Put(1, False, Size(50, 60)))
        return Cut(Size(100, 100), False, 40, strip, other)

    def test_strips_come_first_then_one_stop_after_the_other(self) -> None:
        cuts = [(step.part, step.upright, step.stop, step.first, step.rest) for step in steps(self.tree(), 0.0)]
        assert cuts == [(0, False, 40, 1, 2), (1, True, 30, 3, 4), (4, True, 30, 5, 6), (2, True, 50, 7, 8)]
        assert times_set(steps(self.tree(), 0.0)) == 3

    def test_every_part_says_where_it_lay(self) -> None:
        places = {part.number: tuple(part.box) for part in parts(self.tree(), 0.0)}
        assert places[0] == (0, 0, 100, 100)
        assert places[5] == (30, 0, 60, 40)
        assert places[8] == (50, 40, 100, 100)


class TestRolls:
    @pytest.mark.parametrize(
        ("wants", "roll", "rolls"),
        [
            ([(317.5, 14)], 5000, 1),  # 14 x 317.5 = 4445
            ([(317.5, 16)], 5000, 2),  # 15 x 317.5 = 4762.5, 16 x 317.5 = 5080
            ([(1300, 200_000)], 50_000, 5264),  # 38 a roll, 38 x 1300 = 49,400; 200,000 / 38 = 5263.2
            ([(600, 2), (400, 2)], 1000, 2),  # 600 + 400
            ([(215.9 / 3, 9)], 215.9, 3),
            # 700 + 300 and 600 + 400
            ([(700, 1), (600, 1), (400, 1), (300, 1)], 1000, 2),
            # 44 + 34 + 22 = 100; the longest first puts two of 44 on a roll, and ends with a seventh
            ([(44, 6), (34, 6), (22, 6)], 100, 6),
            # 50 + 25 + 25 twice, 35 + 35 + 30 once
            ([(50, 2), (35, 2), (30, 1), (25, 4)], 100, 3),
            ([], 100, 0),
            ([(50, 0)], 100, 0),
        ],
    )
    def test_so_many_rolls(self, wants, roll, rolls) -> None:
        cuts = cut_rolls(wants, roll, cut=0)
        assert sum(cut.times for cut in cuts) == rolls
        check_rolls(wants, roll, cuts)

    @settings(max_examples=60, deadline=None)
    @given(st.lists(st.tuples(st.integers(5, 900), st.integers(0, 40)), max_size=8), st.integers(900, 3000))
    def test_every_length_comes_off(self, wants, roll) -> None:
        cuts = cut_rolls(wants, roll, cut=0)
        check_rolls(wants, roll, cuts)
        used = sum(cut.times for cut in cuts)
        assert sum(length * count for length, count in wants) <= used * roll
        assert used <= longest_first(wants, roll)

    def test_each_cut_takes_its_allowance(self) -> None:
        # 505 each, and none is needed beyond the end: 9 x 505 = 4,545, 10 x 505 = 5,050 of 5,005
        rolls = [(cut.counts, cut.left, cut.times) for cut in cut_rolls([(500, 10)], 5000)]
        assert sorted(rolls) == [((1,), 4495.0, 1), ((9,), 455.0, 1)]
        # 14 x (308.8 + 5) = 4,393.2
        assert [cut.left for cut in cut_rolls([(308.8, 14)], 5000)] == [606.8]

    def test_a_length_may_be_the_whole_roll(self) -> None:
        assert [(cut.counts, cut.left) for cut in cut_rolls([(5000, 1)], 5000)] == [((1,), 0.0)]
        assert [cut.counts for cut in cut_rolls([(500, 10)], 5045)] == [(10,)]  # 10 x 500 and 9 cuts between them
        assert off_roll(5000, 5000).counts == (1,)

    @pytest.mark.parametrize(("length", "each", "left"), [(308.8, 15, 293.0), (500, 9, 455.0), (5000, 1, 0.0), (2497.5, 2, 0.0)])
    def test_as_many_as_a_roll_gives(self, length, each, left) -> None:
        assert (off_roll(length, 5000).counts, off_roll(length, 5000).left) == ((each,), left)
        assert cut_rolls([(length, each)], 5000)[0].counts == (each,)
        assert sum(cut.times for cut in cut_rolls([(length, each + 1)], 5000)) == 2

    def test_a_roll_that_is_too_short(self) -> None:
        with pytest.raises(ValueError, match="too short"):
            cut_rolls([(500, 1)], 400)


def longest_first(wants: list[tuple[int, int]], roll: int) -> int:
    """First fit, the longest first, piece by piece."""
    free: list[int] = []
    for length in sorted((length for length, count in wants for _ in range(count)), reverse=True):
        at = next((at for at, left in enumerate(free) if left >= length), None)
        if at is None:
            free.append(roll - length)
        else:
            free[at] -= length
    return len(free)


def check_rolls(wants, roll, cuts) -> None:
    for number, (_, count) in enumerate(wants):
        assert sum(cut.counts[number] * cut.times for cut in cuts) == count
    for cut in cuts:
        taken = sum(length * count for (length, _), count in zip(wants, cut.counts, strict=True))
        assert taken <= roll + 1e-4
        assert cut.left == pytest.approx(roll - taken, abs=1e-4)
