"""Sewing through folds, one section or many: long stitch, link stitch, French link, tapes. Blocks and sums by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import handbook as h
from bookplates.errors import Finding
from bookplates.kinds.block import Block
from bookplates.kinds.patterns import PATTERNS, Pattern
from bookplates.kinds.seam import Seam, Sewn
from bookplates.kinds.thread import Place, ThreadPath
from path_checks import faults
from shapes import planned, refusals

IN = 25.4
TALL = 203.2  # 8 in


def block(sections: int, *, folios: int = 3, height: float = 120.0, opening: str = "left") -> Block:
    """Paper of 0.1 mm, thread of 0.5: each section is 2 x folios x 0.1 thick, and swells by 0.5."""
    return Block(
        width=90.0,
        leaf_width=90.0,
        height=height,
        thickness=sections * (2 * folios * 0.1 + 0.5),
        caliper=0.1,
        folios_per_section=(folios,) * sections,
        fold="sharp",
        opening=opening,  # type: ignore[arg-type]
        units="mm",
    )


def pattern(name: str, **keys: object) -> Pattern:
    return PATTERNS[name].model_validate({"pattern": name, **keys})


def sewn_by(sewing: Pattern, of: Block, cover: Sewn | None = None) -> tuple[Seam, ThreadPath]:
    seam = sewing.seam(of)
    return seam, sewing.path(seam, of, cover or Sewn())


def length(name: str, sections: int, cover: Sewn | None = None, **keys: object) -> float:
    return sewn_by(pattern(name, **keys), block(sections), cover)[1].length


def found(sewing: Pattern, of: Block, *, refused: bool = True) -> dict[str, tuple[str, str]]:
    findings: tuple[Finding, ...] = sewing.findings(of)
    return {f.problem.where: (f.problem.what, f.problem.hint) for f in findings if f.refused == refused}


def deeds(path: ThreadPath, deed: str) -> list[tuple[int, int, int | None]]:
    """Station, section, and whose stitch, of each such leg."""
    return [(leg.start.station, leg.start.section, leg.linked) for leg in path.legs if leg.deed == deed]


class TestTapeStations:
    def test_three_tapes_on_eight_inches(self):
        """Bean and Brodhead, Bookbinding for Beginners: kettle stitches 1/2 in from the ends, tapes 1/2 in wide (E9)."""
        written = {"end_margin": "1/2 in", "tapes": 3, "tape_width": "1/2 in", "outer_tape": "1 1/4 in"}
        seam = pattern("tapes", **written).seam(block(3, height=TALL))
        # 0.5; 1.25 -+ 0.25; 4 -+ 0.25; 8 - 1.25 = 6.75 -+ 0.25; 8 - 0.5
        assert [station / IN for station in seam.stations] == pytest.approx([0.5, 1.0, 1.5, 3.75, 4.25, 6.5, 7.0, 7.5])
        assert [station / IN for station in seam.stations] == pytest.approx([float(hole) for hole in h.E9_HOLES_IN])
        edges = [edge for tape in seam.supports for edge in tape]
        assert edges == pytest.approx([25.4, 38.1, 95.25, 107.95, 165.1, 177.8])

    def test_that_is_what_one_gets_who_writes_nothing(self):
        assert pattern("tapes").seam(block(3, height=TALL)).stations == pytest.approx([float(n) * IN for n in h.E9_HOLES_IN])

    def test_one_tape_lies_in_the_middle(self):
        seam = pattern("tapes", tapes=1, tape_width=20).seam(block(2))
        assert seam.supports == ((50.0, 70.0),)  # 60 -+ 10
        assert seam.stations == pytest.approx((12.7, 50, 70, 107.3))
        assert "sewing.outer_tape" in pattern("tapes", tapes=1).idle()

    def test_stations_as_written_say_where_the_tapes_lie(self):
        seam = pattern("tapes", stations=[10, 30, 42, 80, 92, 110]).seam(block(2))
        assert seam.stations == (10, 30, 42, 80, 92, 110)
        assert seam.supports == ((30, 42), (80, 92))

    @pytest.mark.parametrize(
        ("height", "tapes", "warned"), [(203.2, 3, False), (304.8, 4, False), (203.2, 1, True), (304.8, 2, True), (110, 3, False)]
    )
    def test_number_by_height(self, height, tapes, warned):
        """Bailey, specification 20: three for 8 in (203.2 mm), four for 12 in (304.8 mm) (SW9)."""
        warnings = found(pattern("tapes", tapes=tapes), block(3, height=height), refused=False)
        assert ("sewing.tapes" in warnings) == warned


class TestPairedStations:
    def test_french_link(self):
        # 8 in = 203.2: thirds at 67.7333 and 135.4667, -+ 5; kettles at 12.7 and 203.2 - 12.7 = 190.5
        seam = pattern("french link").seam(block(3, height=TALL))
        assert seam.stations == pytest.approx((12.7, 62.7333, 72.7333, 130.4667, 140.4667, 190.5), abs=1e-3)

    def test_three_pairs(self):
        seam = pattern("french link", pairs=3, pair_gap=8, end_margin=10).seam(block(2))
        assert seam.stations == pytest.approx((10, 26, 34, 56, 64, 86, 94, 110))  # 30, 60, 90 -+ 4

    @pytest.mark.parametrize("name", ["tapes", "french link"])
    @pytest.mark.parametrize("stations", [[10, 60, 110], [10, 40, 60, 80, 110], [10, 110], [10]])
    def test_an_even_number_four_or_more(self, name, stations):
        """Alaska: sewing on tapes or lapped links needs an even number of stations (SW16)."""
        what, hint = found(pattern(name, stations=stations), block(3))["sewing.stations"]
        assert f"not {len(stations)}" in what
        assert "4" in hint

    @pytest.mark.parametrize("count", [2, 3, 4, 5, 6, 7, 8])
    def test_link_takes_any_number(self, count):
        """Alaska: link stitch on any number of stations (SW16)."""
        assert found(pattern("link", count=count), block(3)) == {}

    def test_five_punctures_all_along(self):
        """Vaughn: the top one 3/4 to 1 in from the head, the bottom one 1 1/4 to 1 1/2 in from the foot (SW6)."""
        written = ["7/8 in", "2 5/16 in", "3 3/4 in", "5 3/16 in", "6 5/8 in"]  # 1 7/16 apart; 8 - 6 5/8 = 1 3/8
        sewing = pattern("link", stations=written)
        assert found(sewing, block(3, height=TALL)) == found(sewing, block(3, height=TALL), refused=False) == {}
        assert sewing.seam(block(3, height=TALL)).stations == pytest.approx((22.225, 58.7375, 95.25, 131.7625, 168.275))

    def test_five_punctures_are_usual_from_seven_inches(self):
        assert len(pattern("link").seam(block(3, height=177.8)).stations) == 5
        assert len(pattern("link").seam(block(3, height=177.7)).stations) == 4


class TestLongStitchStations:
    @pytest.mark.parametrize(("height", "count"), [(177.7, 4), (177.8, 6)])
    def test_usual(self, height, count):
        """Common practice, no source: four under 7 in (177.8 mm), else six."""
        sewing = pattern("long stitch")
        assert len(sewing.seam(block(3, height=height)).stations) == count
        assert sewing.chosen(block(3, height=height)) == {"sewing.count": str(count)}

    @pytest.mark.parametrize(
        ("keys", "where", "hint"),
        [
            ({"count": 5}, "sewing.count", "4 or 6"),
            ({"count": 3}, "sewing.count", "2 or 4"),
            ({"stations": [10, 60, 110]}, "sewing.stations", "2 or 4"),
            # 120 - 2 x 10 = 100, / 25 = 4 gaps, so 5 stations; 100 / 5 = 20 makes 6
            ({"spacing": 25, "end_margin": 10}, "sewing.spacing", "20 mm gives 6 stations; or sewing.count = 4 or 6 instead"),
        ],
    )
    @pytest.mark.parametrize("sections", [1, 4])
    def test_odd_is_refused(self, keys, where, hint, sections):
        found_hint = found(pattern("long stitch", **keys), block(sections))[where][1]
        assert found_hint == hint

    @pytest.mark.parametrize("spacing", [7, 9.3, 11, 13.1, 25, 47])
    def test_the_spacing_it_advises_is_taken(self, spacing):
        of = block(2)
        while refused := found(pattern("long stitch", spacing=spacing), of):
            spacing = refused["sewing.spacing"][1].split(" gives")[0]
            assert found(pattern("long stitch", spacing=spacing), of) == {}

    def test_with_a_tape_in_the_plan(self):
        assert refusals({"sewing.pattern": "long stitch", "sewing.count": 5}).keys() == {"sewing.count"}


class TestRefused:
    @pytest.mark.parametrize("name", ["link", "french link", "tapes"])
    def test_a_single_section(self, name):
        assert found(pattern(name), block(1))["text_block.sections"][1].startswith("2 or more")

    @pytest.mark.parametrize("name", ["chain", "pamphlet"])
    def test_several_sections_name_the_long_stitch(self, name):
        assert '"long stitch"' in found(pattern(name), block(3))["text_block.sections"][1]

    @pytest.mark.parametrize(
        ("keys", "where"),
        [
            ({"tapes": 6}, "sewing.tapes"),  # 120 - 2 x 31.75 = 56.5; / (12.7 + 3) = 3.6: four at most
            ({"outer_tape": 20}, "sewing.outer_tape"),  # 12.7 + 3 + 6.35 = 22.05 at least
            ({"outer_tape": 60}, "sewing.tapes"),
            ({"outer_tape": 200}, "sewing.tapes"),
            ({"tapes": 1, "tape_width": 100}, "sewing.tape_width"),
            ({"end_margin": 60}, "sewing.end_margin"),
        ],
    )
    def test_tapes_that_do_not_fit(self, keys, where):
        assert list(found(pattern("tapes", **keys), block(3))) == [where]

    def test_what_it_advises_for_tapes_is_taken(self):
        of = block(3)
        assert found(pattern("tapes", tapes=6), of)["sewing.tapes"][1].startswith("at most 4,")
        assert found(pattern("tapes", tapes=4), of) == {}
        assert found(pattern("tapes", outer_tape=20), of)["sewing.outer_tape"][1].startswith("at least 22.05 mm")
        assert found(pattern("tapes", outer_tape=22.05), of) == {}
        assert found(pattern("tapes", tapes=1, tape_width=100), of)["sewing.tape_width"][1].startswith("at most 88.6 mm")
        assert found(pattern("tapes", tapes=1, tape_width=88.6), of) == {}  # 120 - 2 x (12.7 + 3)

    @pytest.mark.parametrize(
        ("keys", "where", "hint"),
        [
            ({"pair_gap": 38}, "sewing.pair_gap", "at most 37 mm"),  # 40 - 3
            ({"pair_gap": 40, "end_margin": 24}, "sewing.pair_gap", "at most 26 mm"),  # 2 x (40 - 24 - 3)
            ({"pairs": 20}, "sewing.pairs", "fewer"),  # 120 / 21 = 5.7 - 3
            ({"end_margin": 60}, "sewing.end_margin", "a smaller"),
            ({"pairs": 1, "pair_gap": 95}, "sewing.pair_gap", "at most 88.6 mm"),  # 120 - 2 x (12.7 + 3)
        ],
    )
    def test_pairs_that_do_not_fit(self, keys, where, hint):
        assert found(pattern("french link", **keys), block(3))[where][1].startswith(hint)
        if where == "sewing.pair_gap":
            most = hint.removeprefix("at most ")
            assert found(pattern("french link", **{**keys, "pair_gap": most}), block(3)) == {}


SPINE, BOARDS = Sewn(spine=0.5), Sewn(board=2.0)
PAIRED = [10, 50, 62, 110]


class TestThreadByHand:
    """Three folios of 0.1: 0.3 a pass; from fold to fold 2 x 3 x 0.1 + 0.5 = 1.1; a knot or two hitches 18; ends 2 x 85."""

    def test_tapes_two_sections(self):
        # runs 2 x 100; passes 2 x 4 x 0.3; climb 1.1; knot 18, halfway between the folds: 0.55 there and back; ends 170
        assert length("tapes", 2, stations=PAIRED) == pytest.approx(200 + 2.4 + 1.1 + 18 + 1.1 + 170)  # 392.6

    def test_tapes_three_sections(self):
        # runs 300; passes 12 x 0.3; climbs 2 x 1.1; knot 18 + 1.1; kettle stitch there and back 2.2 and round 1.5; hitches 18
        assert length("tapes", 3, stations=PAIRED) == pytest.approx(300 + 3.6 + 2.2 + 19.1 + 3.7 + 18 + 170)  # 516.6

    def test_french_link(self):
        # as on tapes, but over the pair 12 wide by way of the stitch 1.1 below: 2 x sqrt(36 + 1.21) = 12.2, and round it 1.5
        assert length("french link", 2, stations=PAIRED) == pytest.approx(392.6 + 0.2 + 1.5, abs=1e-3)

    def test_long_stitch_there_and_back(self):
        # passes 1 + 2 + 2 + 1 of 0.3 + 0.5; runs 2 x 90; knot 18; ends 170
        assert length("long stitch", 1, SPINE, stations=[10, 40, 70, 100]) == pytest.approx(4.8 + 180 + 18 + 170)

    def test_long_stitch_three_sections(self):
        # runs 270; passes 12 and the last one in again, x 0.8; climbs 2.2; knot 18 + 1.1; at the second change-over a hitch 9
        # round the stitch of the section before, 1.1 there and back; two inside 18; ends 170
        made = length("long stitch", 3, SPINE, stations=[10, 40, 70, 100])
        assert made == pytest.approx(270 + 10.4 + 2.2 + 19.1 + 9 + 2.2 + 18 + 170)

    def test_link_and_two_boards(self):
        # runs 200; passes of folds (2 + 2 + 1) + (1 + 2 + 2) of 0.3 = 3; of boards 6 x 2 = 12;
        # from a fold to its board 0.55 + 2 + 10, back 10 + 0.55: 23.1 x 6 = 138.6; round itself 6 x 1.5 = 9; climb 1.1;
        # two links to section 1, 3.7 each; hitches 9 + 18; ends 170
        made = length("link", 2, BOARDS, stations=[10, 60, 110], board_inset=10)
        assert made == pytest.approx(200 + 3 + 12 + 138.6 + 9 + 1.1 + 7.4 + 27 + 170)  # 568.1

    def test_pamphlet_of_eight_and_a_half_inches(self):
        """Handbook E8: Indiana 21 1/4 in (SW2), Alaska 2 x height + 4 to 6 in (SW4), Dorset 3 x spine (SW5): five holes each.

        Five folios, no cover: 2 x 190.5 of runs, 8 passes of 0.5, knot 18, ends 170: 573 mm, 22.6 in.
        """
        path = sewn_by(pattern("pamphlet", count=5), block(1, folios=5, height=8.5 * IN))[1]
        assert path.length == pytest.approx(381 + 4 + 18 + 170)
        low, high = (h.SW4_THREAD_TO_HEIGHT * h.E8_HEIGHT_IN + extra for extra in h.SW4_EXTRA_IN)
        assert (low, high) == (21, 23)  # 2 x 8 1/2 + 4, + 6
        assert low <= path.length / IN <= high
        assert path.length / IN <= h.SW5_THREAD_TO_SPINE * h.E8_HEIGHT_IN <= 1.25 * path.length / IN  # 22.6, 25.5, 28.2

    def test_swell(self):
        """Iowa: one thread thickness a section; heavy thread is near 1 mm (SW21)."""
        changes = {"sewing.pattern": "long stitch", "text_block.sections": 3, "text_block.folios": 12}
        assert planned(changes).text_block.thickness == pytest.approx(2.4 + 3 * 0.5)
        assert planned({**changes, "sewing.thread": "1 mm"}).text_block.thickness == pytest.approx(2.4 + 3 * 1.0)
        assert planned({"sewing.thread": "1 mm", "text_block.folios": 12}).text_block.thickness == pytest.approx(2.4)


class TestTheWayOfTheThread:
    @pytest.mark.parametrize("name", ["tapes", "french link", "long stitch"])
    def test_all_along_from_end_to_end(self, name):
        path = sewn_by(pattern(name, stations=PAIRED), block(3))[1]
        way = [(leg.start.section, leg.start.station, leg.start.side) for leg in path.legs if leg.deed == "pass"][:12]
        assert way == [
            *[(1, 1, "outside"), (1, 2, "inside"), (1, 3, "outside"), (1, 4, "inside")],
            *[(2, 4, "outside"), (2, 3, "inside"), (2, 2, "outside"), (2, 1, "inside")],
            *[(3, 1, "outside"), (3, 2, "inside"), (3, 3, "outside"), (3, 4, "inside")],
        ]

    def test_kettle_stitches_from_the_third_section_on(self):
        path = sewn_by(pattern("tapes", stations=PAIRED), block(5))[1]
        assert deeds(path, "link") == [(4, 3, 2), (1, 4, 3), (4, 5, 4)]
        assert deeds(path, "climb") == [(4, 1, None), (1, 2, None), (4, 3, None), (1, 4, None)]

    def test_french_link_catches_each_pair_of_the_section_before(self):
        path = sewn_by(pattern("french link", stations=[10, 40, 50, 80, 90, 110]), block(3))[1]
        assert deeds(path, "link") == [(5, 2, 1), (3, 2, 1), (2, 3, 2), (4, 3, 2), (6, 3, 2)]

    def test_link_goes_round_the_section_before_and_round_itself_at_a_board(self):
        path = sewn_by(pattern("link", count=3), block(3), BOARDS)[1]
        first, second = [(1, 1, None), (2, 1, None), (3, 1, None)], [(2, 2, 1), (1, 2, 1)]
        last = [(1, 3, None), (2, 3, 2), (2, 3, None), (3, 3, 2), (3, 3, None)]
        assert deeds(path, "link") == [*first, *second, *last]
        assert [path.passes[board, station] for board in (0, 4) for station in (1, 2, 3)] == [1] * 6

    def test_a_french_link_is_made_on_the_way_from_one_station_of_a_pair_to_the_other(self):
        path = sewn_by(pattern("french link", stations=PAIRED), block(3))[1]
        links = [(leg.start, leg.end, leg.linked) for leg in path.legs if leg.deed == "link" and leg.start != leg.end]
        second, third = (Place(3, "outside", 2), Place(2, "outside", 2)), (Place(2, "outside", 3), Place(3, "outside", 3))
        assert links == [(*second, 1), (*third, 2)]

    def test_long_stitch_is_hitched_to_the_stitch_between_the_two_sections_before(self):
        path = sewn_by(pattern("long stitch", stations=PAIRED), block(4), SPINE)[1]
        assert deeds(path, "hitch")[:2] == [(4, 3, 2), (1, 4, 3)]
        assert deeds(path, "climb")[0] == (4, 1, None)  # from section 1 to section 2, at the same station 4

    @pytest.mark.parametrize("name", ["tapes", "french link", "long stitch"])
    def test_the_first_end_is_tied_when_the_thread_comes_back_to_the_head(self, name):
        path = sewn_by(pattern(name, stations=PAIRED), block(3))[1]
        assert deeds(path, "knot") == [(1, 2, 1)]
        assert path.legs[0].start == Place(1, "outside", 1)

    def test_one_section_of_long_stitch_closes_every_gap(self):
        path = sewn_by(pattern("long stitch", count=6), block(1), SPINE)[1]
        runs = {(leg.start.side, *sorted((leg.start.station, leg.end.station))) for leg in path.legs if leg.deed == "run"}
        assert {(low, high) for side, low, high in runs if side == "outside"} == {(1, 2), (2, 3), (3, 4), (4, 5), (5, 6)}
        assert path.legs[0].start == path.legs[-1].end == Place(1, "inside")


FOLD_SEWN = ("long stitch", "link", "french link", "tapes")


def keys_for(name: str, pairs: int, margin: float) -> dict[str, object]:
    own = {"long stitch": {"count": 2 * pairs}, "link": {"count": pairs + 1}, "french link": {"pairs": pairs, "pair_gap": 5}}
    return {"end_margin": margin, **own.get(name, {"tapes": pairs, "tape_width": 6, "outer_tape": margin + 20})}


class TestAnySewing:
    @settings(deadline=None, derandomize=True, max_examples=150)
    @given(
        name=st.sampled_from(FOLD_SEWN),
        sections=st.integers(1, 12),
        pairs=st.integers(1, 6),
        folios=st.integers(1, 9),
        margin=st.floats(1, 20),
        thick=st.floats(0.1, 5),
        end=st.floats(0, 300),
    )
    def test_can_be_sewn(self, *, name, sections, pairs, folios, margin, thick, end):
        """Whatever was not refused: legs that join, every hole used, ends that can be tied."""
        of = block(sections, folios=folios, height=230)
        sewing = pattern(name, thread_end=end, **keys_for(name, pairs, margin))
        if found(sewing, of):
            assert sections == 1
            assert name != "long stitch"
            return
        boards = name == "link"
        seam, path = sewn_by(sewing, of, Sewn(board=thick) if boards else Sewn(spine=thick))
        assert faults(path, seam, sections, boards=boards) == []
        assert path.length == pytest.approx(sum(leg.length for leg in path.legs))
        assert len(path.steps) < 40

    @pytest.mark.parametrize(("name", "keys"), [
        ("long stitch", {"count": 10}), ("link", {"count": 10}), ("french link", {"pairs": 4}), ("tapes", {"tapes": 4}),
    ])  # fmt: skip
    def test_five_hundred_sections(self, name, keys):
        sewing, of = pattern(name, **keys), block(500, height=300)
        seam = sewing.seam(of)
        path = sewing.path(seam, of, BOARDS)
        assert len(path.steps) < 40
        assert path.steps[-1].legs_done == len(path.legs)
        assert faults(path, seam, 500, boards=name == "link") == []


class TestWords:
    @pytest.mark.parametrize("name", FOLD_SEWN)
    def test_the_thread_end_is_held_until_it_is_tied(self, name):
        steps = sewn_by(pattern(name), block(3), BOARDS)[1].steps
        assert "Hold the thread end with a finger until it is tied." in steps[0].text
        assert sum("first thread end" in step.text and "ie the " in step.text for step in steps) == 1

    @pytest.mark.parametrize("name", ["link", "french link", "tapes"])
    @pytest.mark.parametrize(("opening", "hand"), [("left", "right"), ("right", "left")])
    def test_said_once_how_the_pictures_are_turned(self, name, opening, hand):
        """The head lies to the right, and is at the top of the pictures."""
        steps = sewn_by(pattern(name), block(3, opening=opening), BOARDS)[1].steps
        assert [f"a quarter turn to the {hand}" in step.text for step in steps] == [True, *[False] * (len(steps) - 1)]

    @pytest.mark.parametrize("name", FOLD_SEWN)
    def test_no_stitch_is_below_another_in_words(self, name):
        """The pictures have it beside."""
        assert not any("below" in step.text for step in sewn_by(pattern(name), block(6), BOARDS)[1].steps)

    @pytest.mark.parametrize("name", FOLD_SEWN)
    @pytest.mark.parametrize("sections", [2, 3, 4, 5, 6, 12])
    def test_every_section_is_told(self, name, sections):
        path = sewn_by(pattern(name), block(sections), BOARDS)[1]
        text = " ".join(step.text for step in path.steps)
        together = {5: "Sew section 4 in", 6: "Sew sections 4 and 5 in", 12: "Sew sections 4 to 11 in"}
        assert together.get(sections, "section 2") in text
        for section in (1, 2, min(3, sections), sections):
            assert f"section {section}" in text

    @pytest.mark.parametrize("name", FOLD_SEWN)
    def test_a_step_sews_the_section_it_speaks_of(self, name):
        """The legs up to where sections 4 to 8 are told together end at section 8, the next begin by climbing to 9."""
        path = sewn_by(pattern(name), block(9), BOARDS)[1]
        done = next(step.legs_done for step in path.steps if step.text.startswith("Sew sections 4 to 8"))
        assert path.legs[done - 1].end.section == 8
        assert (path.legs[done].deed, path.legs[done].end.section) == ("climb", 9)

    @pytest.mark.parametrize(("opening", "hand"), [("left", "right"), ("right", "left")])
    def test_on_its_face_the_head_lies_at_the_other_hand(self, opening, hand):
        """Front down, spine towards the reader: a book that opens to the left has its head to the right."""
        path = sewn_by(pattern("tapes"), block(3, opening=opening))[1]
        assert f"its head is to the {hand}" in path.steps[0].text
