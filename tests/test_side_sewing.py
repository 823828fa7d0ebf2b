"""Sewing through the side: holes and thread, held against the manuals and against sums done by hand."""

from __future__ import annotations

import math
import re
from collections import Counter
from itertools import combinations, pairwise
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import handbook as h
from bookplates.book.plan import crowded
from bookplates.errors import Finding
from bookplates.kinds.block import Block
from bookplates.kinds.patterns.four_hole import FourHole
from bookplates.kinds.patterns.hemp_leaf import HempLeaf
from bookplates.kinds.patterns.noble import Noble
from bookplates.kinds.patterns.side_sewing import SideStitch
from bookplates.kinds.patterns.tortoise_shell import TortoiseShell
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import Place, Side, ThreadPath
from path_checks import faults

KINDS: tuple[type[SideStitch], ...] = (FourHole, Noble, HempLeaf, TortoiseShell)
each_kind = pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)


def block(height: float = 150.0, thickness: float = 4.0, width: float = 100.0) -> Block:
    """Single leaves, 0.1 mm each."""
    return Block(width, width, height, thickness, 0.1, (20,), "sharp", "left", "mm", leaves=40, gathered="single leaves")


def pattern(kind: type[SideStitch], **keys: Any) -> SideStitch:
    return kind.model_validate(keys)


def path_of(kind: type[SideStitch], of: Block | None = None, sewn: Sewn | None = None, **keys: Any) -> ThreadPath:
    sewing, of = pattern(kind, **keys), of or block()
    return sewing.path(sewing.seam(of), of, sewn or Sewn())


def refused(findings: tuple[Finding, ...]) -> dict[str, str]:
    return {finding.problem.where: finding.problem.hint for finding in findings if finding.refused}


def warned(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.problem.where for finding in findings if not finding.refused]


class TestHoles:
    def test_four_at_equal_divisions(self):
        # 150 / 5 = 30
        assert pattern(FourHole).seam(block()).holes == ((10, 30), (10, 60), (10, 90), (10, 120))

    def test_tradition(self):
        """Cambridge University Library: four holes Chinese and Japanese, five Korean (handbook ST7)."""
        assert len(pattern(FourHole).seam(block()).holes) == h.ST7_CHINESE_AND_JAPANESE
        korean = pattern(FourHole, count=h.ST7_KOREAN)
        # 180 / 6 = 30
        assert korean.seam(block(180)).stations == pytest.approx((30, 60, 90, 120, 150))
        assert korean.findings(block(180)) == ()

    def test_winchester(self):
        """Winchester: at least 10 mm from the spine edge, a 2 mm drill (handbook ST3)."""
        seam = pattern(FourHole).seam(block())
        assert (seam.inset, seam.hole) == (h.ST3_INSET_MM, h.ST3_DRILL_MM)
        assert warned(pattern(FourHole, inset=9.9).findings(block())) == ["sewing.inset"]
        assert warned(pattern(FourHole, inset=h.ST3_INSET_MM).findings(block())) == []

    @pytest.mark.parametrize("margin", h.E10_FROM_ENDS_IN)
    def test_two_hole_laced_cover(self, margin):
        """Bean and Brodhead: 1/5 to 1/6 of a 6 in strip from its ends, midway across its 1 in (handbook ST6, E10)."""
        width, height = (float(inches) * 25.4 for inches in h.E10_STRIP_IN)
        inset = float(h.E10_FROM_EDGE_IN) * 25.4
        sewing = pattern(FourHole, count=2, end_margin=float(margin) * 25.4, inset=inset)
        first, last = sewing.seam(block(height)).holes
        assert height / 6 - 0.01 <= first[1] <= height / 5 + 0.01
        assert first[1] == pytest.approx(float(margin) * 25.4)
        assert height - last[1] == pytest.approx(float(margin) * 25.4)
        assert first[0] == last[0] == pytest.approx(width - inset)
        assert sewing.findings(block(height)) == ()

    def test_a_written_end_margin_spreads_them(self):
        # (150 - 2 x 15) / 3 = 40
        assert pattern(FourHole, end_margin=15.0).seam(block()).stations == pytest.approx((15, 55, 95, 135))

    def test_as_much_as_the_usual_margin_may_be_written(self):
        # (150 - 2 x 12.7) / 3 = 41.5333
        found = pattern(FourHole, end_margin=12.7).seam(block()).stations
        assert found == pytest.approx((12.7, 54.2333, 95.7667, 137.3), abs=1e-4)

    def test_spacing(self):
        # 150 - 25.4 = 124.6; / 40 = 3.1: four holes, (150 - 120) / 2 = 15
        assert pattern(FourHole, spacing=40.0).seam(block()).stations == pytest.approx((15, 55, 95, 135))

    def test_stations(self):
        assert pattern(FourHole, stations=[20.0, 70.0, 130.0]).seam(block()).holes == ((10, 20), (10, 70), (10, 130))

    def test_noble(self):
        """From memory: half the inset, half the outer hole's distance from the end."""
        assert pattern(Noble).seam(block()).holes[4:] == ((5, 15), (5, 135))  # 150 - 15 = 135

    def test_hemp_leaf(self):
        """From memory: as noble, and midway between two main holes, numbered from the head."""
        found = pattern(HempLeaf).seam(block()).holes[4:]
        assert found == ((5, 15), (5, 45), (5, 75), (5, 105), (5, 135))

    def test_tortoise_shell(self):
        """From memory: half the inset, as far above and below each main hole."""
        found = pattern(TortoiseShell).seam(block()).holes[4:]
        assert found == tuple((5, y) for y in (25, 35, 55, 65, 85, 95, 115, 125))

    @each_kind
    def test_drilled_whole_without_swell(self, kind):
        sewing = pattern(kind)
        assert sewing.lots(block()) == ()
        assert sewing.swell == 0

    def test_what_is_chosen_and_what_plays_no_part(self):
        assert pattern(FourHole).chosen(block()) == {
            "sewing.count": "4",
            "sewing.stations": "equal divisions of the height",
        }
        assert pattern(FourHole).idle() == {"sewing.punch_at_once", "sewing.end_margin"}
        assert pattern(FourHole, end_margin=12.7).chosen(block()) == {"sewing.count": "4"}
        assert pattern(FourHole, end_margin=12.7).idle() == {"sewing.punch_at_once"}


class TestFindings:
    @each_kind
    @pytest.mark.parametrize("height", [105.0, 150.0, 210.0, 297.0, 500.0])
    def test_the_usual_book_is_not_warned_of(self, kind, height):
        """Thread goes round head and tail: an end as long as the stitches between the holes is no unsewn end."""
        sewing, of = pattern(kind), block(height)
        assert sewing.findings(of) == ()
        seam = sewing.seam(of)
        assert list(crowded(sewing.path(seam, of, Sewn()), seam)) == []

    @pytest.mark.parametrize(("stations", "where"), [([50.0, 100.0], []), ([50.0, 99.0], ["sewing.stations"])])
    def test_an_end_longer_than_the_stitches_is(self, stations, where):
        assert warned(pattern(FourHole, stations=stations).findings(block())) == where  # 150 - 99 = 51; 99 - 50 = 49

    def test_lots_are_not_for_it(self):
        assert warned(pattern(FourHole, punch_at_once=10).findings(block())) == ["sewing.punch_at_once"]

    @pytest.mark.parametrize(
        ("kind", "keys", "where"),
        [
            (FourHole, {"count": 1}, "sewing.count"),
            (FourHole, {"stations": [60.0, 50.0]}, "sewing.stations"),
            (FourHole, {"stations": [60.0, 151.0]}, "sewing.stations"),
            (FourHole, {"count": 50}, "sewing.count"),  # 150 / 51 = 2.94
            (FourHole, {"inset": 2.9}, "sewing.inset"),
            (FourHole, {"inset": 97.1}, "sewing.inset"),
            (FourHole, {"end_margin": 2.9}, "sewing.end_margin"),
            (Noble, {"inset": 5.9}, "sewing.inset"),  # 5.9 / 2 = 2.95 from the spine edge
            (HempLeaf, {"inset": 5.9}, "sewing.inset"),
            (TortoiseShell, {"inset": 5.9}, "sewing.inset"),
            (Noble, {"end_margin": 5.9}, "sewing.end_margin"),  # 5.9 / 2 from the head
            (HempLeaf, {"stations": [5.9, 75.0, 140.0]}, "sewing.stations"),
            (TortoiseShell, {"end_margin": 7.9}, "sewing.end_margin"),  # 7.9 - 10 / 2 = 2.9
            (TortoiseShell, {"count": 11}, "sewing.count"),  # 150 / 12 = 12.5; 12.5 - 10 = 2.5
            (TortoiseShell, {"inset": 27.1}, "sewing.inset"),  # 30 - 27.1 = 2.9
            (TortoiseShell, {"stations": [20.0, 32.9]}, "sewing.stations"),
        ],
    )
    def test_refused(self, kind, keys, where):
        found = refused(pattern(kind, **keys).findings(block()))
        assert list(found) == [where]
        assert found[where]

    @pytest.mark.parametrize(
        ("kind", "keys"),
        [
            (FourHole, {"inset": 3.0}),
            (FourHole, {"inset": 97.0}),
            (Noble, {"inset": 6.0}),
            (Noble, {"end_margin": 6.0}),
            (TortoiseShell, {"end_margin": 8.0}),
            (TortoiseShell, {"inset": 27.0}),
            (TortoiseShell, {"stations": [20.0, 33.0]}),
        ],
    )
    def test_three_millimetres_will_do(self, kind, keys):
        assert refused(pattern(kind, **keys).findings(block())) == {}

    def test_what_is_advised_holds(self):
        assert refused(pattern(TortoiseShell, inset=40.0).findings(block()))["sewing.inset"].startswith("at most 27 mm")
        assert refused(pattern(Noble, inset=4.0).findings(block()))["sewing.inset"].startswith("at least 6 mm")
        assert refused(pattern(TortoiseShell, end_margin=3.0).findings(block()))["sewing.end_margin"] == "at least 8 mm"


def stretches(path: ThreadPath, face: Side) -> Counter[tuple[int, int]]:
    """Between which holes thread lies on a face."""
    runs = [leg for leg in path.legs if leg.deed == "run" and leg.start.side == face]
    return Counter((min(ends), max(ends)) for ends in ((leg.start.station, leg.end.station) for leg in runs))


def wraps(path: ThreadPath) -> Counter[tuple[int, str]]:
    """Which holes are wrapped round which edge; a wrap lies on both faces."""
    return Counter((leg.start.station, leg.edge) for leg in path.legs if leg.deed == "wrap")


LINE = [(1, 2), (2, 3), (3, 4)]
ROUND = [(1, "spine"), (2, "spine"), (3, "spine"), (4, "spine"), (1, "head"), (4, "tail")]


class TestLook:
    """What lies on the book when it is sewn, with four main holes."""

    @pytest.mark.parametrize(
        ("kind", "slants", "round_them"),
        [
            (FourHole, [], []),
            (Noble, [(1, 5), (4, 6)], [(5, "spine"), (5, "head"), (6, "spine"), (6, "tail")]),
            (
                HempLeaf,
                [(1, 5), (1, 6), (2, 6), (2, 7), (3, 7), (3, 8), (4, 8), (4, 9)],
                [(5, "spine"), (5, "head"), (6, "spine"), (7, "spine"), (8, "spine"), (9, "spine"), (9, "tail")],
            ),
            (
                TortoiseShell,
                [(1, 5), (1, 6), (2, 7), (2, 8), (3, 9), (3, 10), (4, 11), (4, 12)],
                [(hole, "spine") for hole in range(5, 13)],
            ),
        ],
    )
    def test_every_stitch_once_on_both_faces(self, kind, slants, round_them):
        path = path_of(kind)
        assert stretches(path, "front") == Counter([*LINE, *slants])
        assert stretches(path, "back") == Counter([*LINE, *slants])
        assert wraps(path) == Counter([*ROUND, *round_them])

    @pytest.mark.parametrize(
        ("kind", "threads"),
        [
            (FourHole, [3, 3, 3, 3]),
            (Noble, [4, 3, 3, 4, 3, 3]),
            (HempLeaf, [5, 5, 5, 5, 3, 3, 3, 3, 3]),
            (TortoiseShell, [5, 5, 5, 5, 2, 2, 2, 2, 2, 2, 2, 2]),
        ],
    )
    def test_no_more_threads_in_a_hole_than_stitches_end_there(self, kind, threads):
        """Each pass ends one stitch on the front and one on the back: line, slants, and half of each wrap."""
        passes = path_of(kind).passes
        assert [passes[1, hole] for hole in range(1, len(threads) + 1)] == threads

    @each_kind
    @pytest.mark.parametrize("count", [2, 3, 4, 5, 8])
    def test_begins_and_ends_on_the_back_at_hole_1(self, kind, count):
        legs = path_of(kind, block(300), count=count).legs
        assert legs[0].start == legs[-1].end == Place(1, "back")


class TestThread:
    """A leaf 150 mm tall, 4 mm thick, holes 30 mm apart and 10 mm in, two ends of 85 mm."""

    def test_four_hole(self):
        #   passes        12 x 4               =  48
        #   round spine   4 x (2 x 10 + 4)     =  96
        #   round head    2 x 30 + 4           =  64, tail the same: 128
        #   runs          2 x 3 x 30           = 180
        #   knot of two ends  2 x 9            =  18
        #   ends          2 x 85               = 170     all together 640
        assert path_of(FourHole).length == pytest.approx(640)

    def test_with_a_cover(self):
        # boards of 1.5 mm on both sides: 7 mm; squares of 3 and 5 mm
        #   12 x 7 + 4 x (20 + 7) + (2 x 33 + 7) + (2 x 35 + 7) + 180 + 18 + 170 = 84 + 108 + 73 + 77 + 368 = 710
        assert path_of(FourHole, sewn=Sewn(board=1.5, head=3, tail=5)).length == pytest.approx(710)

    def test_noble(self):
        # each corner: slants 2 x 15.8114 (5 and 15 mm), round the spine 2 x 5 + 4 = 14, round the end 2 x 15 + 4 = 34,
        #   passes 3 x 4 there and 1 x 4 at the main hole: 31.6228 + 14 + 34 + 16 = 95.6228; 640 + 2 x 95.6228 = 831.2456
        assert path_of(Noble).length == pytest.approx(831.2456, abs=1e-4)

    def test_hemp_leaf(self):
        # each hole between: slants 4 x 15.8114, round the spine 14, passes 3 x 4 there and 2 x 4 at the main holes:
        #   63.2456 + 14 + 20 = 97.2456; 831.2456 + 3 x 97.2456 = 1122.9824
        assert path_of(HempLeaf).length == pytest.approx(1122.9824, abs=1e-3)

    def test_tortoise_shell(self):
        # each extra hole: slants 2 x 7.0711 (5 and 5 mm), round the spine 14, passes 2 x 4 there and 1 x 4 at the main hole:
        #   14.1421 + 14 + 12 = 40.1421; 640 + 8 x 40.1421 = 961.1371
        assert path_of(TortoiseShell).length == pytest.approx(961.1371, abs=1e-3)


WAYS = {"up": "back", "down": "front"}


class TestWords:
    @each_kind
    @pytest.mark.parametrize("count", range(2, 9))
    def test_what_is_said_is_what_is_sewn(self, kind, count):
        """Every step that is not "in the same way" names each hole, and which way through, in the order of the legs."""
        path = path_of(kind, block(300), count=count)
        begun = 0
        for step in path.steps:
            legs, begun = path.legs[begun : step.legs_done], step.legs_done
            if "the same way" in step.text:
                continue
            ways = [WAYS[way] for way in re.findall(r"Go (up|down) through", step.text)]
            assert ways == [leg.start.side for leg in legs if leg.deed == "pass"]
            to = re.findall(r"On the (front|back), go (?:back )?to hole (\d+)", step.text)
            assert to == [(leg.end.side, str(leg.end.station)) for leg in legs if leg.deed == "run"]
            edges = re.findall(r"Wrap the thread round the (\w+) to the (\w+)", step.text)
            assert edges == [(leg.edge, leg.end.side) for leg in legs if leg.deed == "wrap"]

    @each_kind
    def test_what_is_said_twice_is_said_in_short(self, kind):
        """A hole more, or forty, takes no more steps."""
        assert len(path_of(kind, block(900), count=7).steps) == len(path_of(kind, block(900), count=40).steps)

    @each_kind
    @pytest.mark.parametrize("count", [2, 4, 5, 12])
    def test_four_things_to_do_at_most_in_a_step_that_is_told_in_full(self, kind, count):
        steps = path_of(kind, block(400), count=count).steps
        assert len(steps) < 40
        for step in steps[1:-1]:
            if "the same way" not in step.text:
                assert len(re.findall(r"(?:^|\. )(?:Go|Wrap|On the \w+, go)\b", step.text)) <= 4, step.text

    @each_kind
    @pytest.mark.parametrize("count", [5, 6, 7, 12])
    def test_even_holes_down_odd_holes_up(self, kind, count):
        """What the short steps say: the first pass at each main hole, on the way out, and the one on the way back."""
        legs = path_of(kind, block(400), count=count).legs
        arrivals = [(a.end, b.deed) for a, b in pairwise(legs) if a.deed == "run" and b.deed == "pass"]
        on_the_line = [leg for leg in legs if leg.deed == "run" and leg.start.station <= count and 1 < leg.end.station <= count]
        assert all((leg.end.side == "front") == (leg.end.station % 2 == 0) for leg in on_the_line)
        assert {place.station for place, _ in arrivals} >= set(range(2, count + 1))


def nearest(of: Block, seam: Seam) -> float:
    """The least distance of any hole to another or to an edge of the leaf, mm; below 0 where extra holes are out of order."""
    edges = [min(x, of.width - x, y, of.height - y) for x, y in seam.holes]
    extra = seam.holes[len(seam.stations) :]
    ahead = [lower[1] - upper[1] for upper, lower in pairwise(extra)]
    return min(*edges, *(math.dist(one, other) for one, other in combinations(seam.holes, 2)), *ahead)


@st.composite
def books(draw: st.DrawFn) -> tuple[SideStitch, Block, Sewn]:
    """A sewing, a block and boards of sizes that go together or not."""
    keys = {"count": draw(st.integers(2, 12)), "inset": draw(st.floats(3, 40))}
    margin = draw(st.one_of(st.none(), st.floats(3, 60)))
    written = keys if margin is None else {**keys, "end_margin": margin}
    square = draw(st.floats(0, 5))
    of = block(draw(st.floats(40, 500)), draw(st.floats(0.5, 60)))
    return pattern(draw(st.sampled_from(KINDS)), **written), of, Sewn(board=2, head=square, tail=square)


class TestAnyBook:
    @settings(deadline=None, derandomize=True, max_examples=300)
    @given(books())
    def test_can_be_sewn_or_is_refused_for_a_reason(self, book):
        sewing, of, sewn = book
        found, seam = sewing.findings(of), sewing.seam(of)
        near = nearest(of, seam) if seam.stations else 0.0
        assume(abs(near - 3) > 1e-3)
        assert bool(refused(found)) == (near < 3)
        if not refused(found):
            path = sewing.path(seam, of, sewn)
            assert faults(path, seam, 1) == []
            assert stretches(path, "front") == stretches(path, "back")
            assert set(stretches(path, "front").values()) == set(wraps(path).values()) == {1}
            assert {hole for hole, edge in wraps(path) if edge == "spine"} == set(range(1, len(seam.holes) + 1))
            assert list(crowded(path, seam)) == []
