"""Stations and thread, held against the manuals and against sums done by hand."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import handbook as h
from bookplates.book.record import Plan
from bookplates.kinds.thread import Place, ThreadPath
from shapes import ORCHARD, planned, refusals, warnings

PAMPHLET = {"sewing.pattern": "pamphlet"}


def stations(**changes: object) -> tuple[float, ...]:
    return planned({f"sewing.{key}": value for key, value in changes.items()}).sewing.stations


class TestStations:
    def test_spacing_fills_the_height(self):
        # 150 - 2 x 12.7 = 124.6; / 12.7 = 9.8: ten stations, 9 x 12.7 = 114.3, (150 - 114.3) / 2 = 17.85
        found = stations()
        assert len(found) == 10
        assert found[0] == pytest.approx(17.85)
        assert found[-1] == pytest.approx(132.15)

    def test_one_that_just_fits_is_kept(self):
        # 150 - 2 x 10 = 130 = 13 x 10, though 130 / 10 may come out a hair under
        assert stations(spacing=10, end_margin=10) == pytest.approx([10 + 10 * n for n in range(14)])

    def test_none_is_lost_to_the_last_bit(self):
        # 6 in tall: (6 - 1) / (1/2) = 10 gaps, which binary fractions make a hair less
        made = planned({"text_block.leaf": "4 x 6 in", "sewing.spacing": "1/2 in", "sewing.end_margin": "1/2 in"})
        assert len(made.sewing.stations) == 11

    def test_ten_of_half_an_inch(self):
        """Common practice, no source: chain-sewing holes 1/2 in apart, centred on 5 1/2 in."""
        found = planned({}, ORCHARD).sewing.stations
        assert found == pytest.approx([12.7, 25.4, 38.1, 50.8, 63.5, 76.2, 88.9, 101.6, 114.3, 127.0])

    def test_count(self):
        assert stations(count=5, end_margin=15) == pytest.approx([15, 45, 75, 105, 135])  # 120 / 4 = 30

    def test_list(self):
        assert stations(stations=["20 mm", "2 in", 130]) == pytest.approx([20, 50.8, 130])

    def test_on_the_cover_they_are_lower_by_the_square_at_the_head(self):
        sewing = planned({"cover.square": {"head": 5, "tail": 3}, "sewing.stations": [20, 130]}).sewing
        assert sewing.cover_stations == pytest.approx((25, 135))

    @settings(deadline=None, derandomize=True, max_examples=60)
    @given(st.floats(60, 500), st.floats(3, 60), st.floats(1, 29))
    def test_centred_and_no_more_would_fit(self, height, spacing, margin):
        assume(spacing < height - 2 * margin)
        changes = {"text_block.leaf": [100, height], "sewing.spacing": spacing, "sewing.end_margin": margin}
        found = planned(changes).sewing.stations
        assert found[0] == pytest.approx(height - found[-1])
        assert margin - 1e-3 <= found[0] < margin + spacing / 2 + 1e-3
        assert all(lower - upper == pytest.approx(spacing) for upper, lower in pairwise(found))


class TestRefused:
    @pytest.mark.parametrize(
        ("changes", "where"),
        [
            ({"sewing.count": 1}, "sewing.count"),
            ({"sewing.stations": []}, "sewing.stations"),
            ({"sewing.stations": [75]}, "sewing.stations"),
            ({"sewing.stations": [75, 75]}, "sewing.stations"),
            ({"sewing.stations": [75, 60]}, "sewing.stations"),
            ({"sewing.stations": [75, 77.9]}, "sewing.stations"),
            ({"sewing.stations": [0, 75]}, "sewing.stations"),
            ({"sewing.stations": [-1, 75]}, "sewing.stations"),
            ({"sewing.stations": [75, 150]}, "sewing.stations"),
            ({"sewing.stations": [75, 151]}, "sewing.stations"),
            ({"sewing.count": 60}, "sewing.count"),
            ({"sewing.spacing": 130}, "sewing.spacing"),
            ({"sewing.end_margin": 76}, "sewing.end_margin"),
            ({"sewing.end_margin": 75}, "sewing.end_margin"),
            ({"sewing.end_margin": 75, "sewing.count": 3}, "sewing.count"),
            ({"text_block.sections": 2}, "text_block.sections"),
            ({**PAMPHLET, "text_block.sections": 2}, "text_block.sections"),
        ],
    )
    def test_refused(self, changes, where):
        found = refusals(changes)
        assert list(found) == [where]
        assert found[where].hint

    @pytest.mark.parametrize("apart", [3, 3.1])
    def test_three_millimetres_will_do(self, apart):
        assert stations(stations=[75, 75 + apart]) == (75, 75 + apart)

    @pytest.mark.parametrize("count", [2, 4, 6, 9])
    def test_pamphlet_is_odd(self, count):
        """Indiana: 3, 5 or 7 holes, so that one is central (handbook SW1)."""
        assert "3, 5 or 7" in refusals({**PAMPHLET, "sewing.count": count})["sewing.count"].what

    @pytest.mark.parametrize("count", h.SW1_PAMPHLET_COUNTS)
    def test_pamphlet_counts(self, count):
        """Indiana, Book Repair Manual (handbook SW1)."""
        found = planned({**PAMPHLET, "sewing.count": count}).sewing.stations
        assert len(found) == count
        assert found[count // 2] == pytest.approx(75)

    def test_a_cover_that_takes_none(self):
        assert "sewing.pattern" in refusals({"sewing.pattern": "tapes"})


class TestWarned:
    @pytest.mark.parametrize(
        ("first", "last", "end"), [(40, 110, None), (40.1, 110, "head"), (40, 109.9, "tail"), (41, 90, "tail")]
    )
    def test_more_than_40_mm_stays_unsewn(self, first, last, end):
        found = warnings({"sewing.stations": [first, 75, last]})
        assert ("sewing.stations" in found) == (end is not None)
        if end:
            bare = {40.1: "40.1", 40: "40.1", 41: "60"}[first]  # 150 - 109.9 = 40.1; 150 - 90 = 60
            assert found["sewing.stations"].what.startswith(f"{bare} mm stays unsewn at the {end}")


class TestUsual:
    def test_alaska_ends(self):
        """Alaska: first and last hole not more than 3/4 in from the ends (handbook SW3)."""
        found = planned(PAMPHLET).sewing.stations
        assert found[0] <= 25.4 * h.SW3_END_AT_MOST_IN
        assert 150 - found[-1] <= 25.4 * h.SW3_END_AT_MOST_IN

    @pytest.mark.parametrize(("height", "count"), [(177.7, 3), (177.8, 5), (120, 3), (240, 5)])
    def test_alaska_three_under_seven_inches(self, height, count):
        """Alaska: three holes under 7 in (177.8 mm), otherwise five (handbook SW3)."""
        made = planned({**PAMPHLET, "text_block.leaf": f"100 x {height} mm"})
        assert len(made.sewing.stations) == count
        assert ("sewing.count", str(count)) in [(default.where, default.value) for default in made.defaults]

    def test_dorset_five_at_equal_distances(self):
        """Dorset: five equally spaced holes (handbook SW5)."""
        found = planned({**PAMPHLET, "sewing.count": h.SW5_COUNT}).sewing.stations
        gaps = {round(lower - upper, 6) for upper, lower in pairwise(found)}
        assert len(gaps) == 1

    def test_an_end_margin_that_plays_no_part_is_no_default(self):
        assert "sewing.end_margin" in [default.where for default in planned().defaults]
        assert "sewing.end_margin" not in [default.where for default in planned({"sewing.stations": [20, 130]}).defaults]


def _passes(path: ThreadPath) -> Counter[int]:
    return Counter(leg.start.station for leg in path.legs if leg.deed == "pass")


def assert_sewn(made: Plan) -> None:
    """What holds for any sewing through a fold: leg joins leg, sides change only at holes, no hole is left out."""
    path, count = made.sewing.path, len(made.sewing.stations)
    for before, after in pairwise(path.legs):
        assert before.end == after.start
    for leg in path.legs:
        assert (leg.start.side != leg.end.side) == (leg.deed == "pass")
        assert leg.deed in ("run", "pass") or leg.start == leg.end
        if leg.deed == "pass":
            assert leg.start.station == leg.end.station
            assert leg.through > 0
        if leg.deed == "run":
            places = made.sewing.stations
            assert leg.length == pytest.approx(abs(places[leg.end.station - 1] - places[leg.start.station - 1]))
        else:
            assert leg.length > 0 or (leg.deed == "end" and made.sewing.thread_end == 0)
    assert set(_passes(path)) == set(range(1, count + 1))
    assert path.legs[0].start.side == path.legs[-1].end.side == "inside"
    assert [leg.deed for leg in path.legs].count("end") == 2
    assert path.legs[0].deed == path.legs[-1].deed == "end"
    done = [step.legs_done for step in path.steps]
    assert all(before < after for before, after in pairwise([0, *done]))
    assert done[-1] == len(path.legs)
    assert made.sewing.thread_length == pytest.approx(sum(leg.length for leg in path.legs))
    assert made.sewing.thread_to_cut == pytest.approx(1.25 * made.sewing.thread_length)


class TestChain:
    @pytest.mark.parametrize("count", [2, 3, 10, 25])
    def test_sewn(self, count):
        made = planned({"sewing.count": count})
        assert_sewn(made)
        assert set(_passes(made.sewing.path).values()) == {2}

    def test_each_loop_is_linked_by_the_next_station(self):
        legs = planned({"sewing.count": 5}).sewing.path.legs
        assert [leg.start for leg in legs if leg.deed == "link"] == [Place(n, "outside") for n in (1, 2, 3, 4)]
        assert [leg.start for leg in legs if leg.deed == "loop"] == [Place(1, "outside")]

    def test_both_ends_are_hitched_inside(self):
        legs = planned({"sewing.count": 5}).sewing.path.legs
        assert [leg.start for leg in legs if leg.deed == "hitch"] == [Place(1, "inside"), Place(5, "inside")]

    def test_no_stretch_lies_loose_outside(self):
        """Outside, the needle only goes to the loop before and back: the chain is all that shows."""
        legs = [leg for leg in planned({"sewing.count": 6}).sewing.path.legs if leg.deed == "run"]
        outside = Counter(tuple(sorted((leg.start.station, leg.end.station))) for leg in legs if leg.start.side == "outside")
        inside = Counter(tuple(sorted((leg.start.station, leg.end.station))) for leg in legs if leg.start.side == "inside")
        stretches = [(1, 2), (2, 3), (3, 4), (4, 5), (5, 6)]
        assert outside == dict.fromkeys(stretches, 2)
        assert inside == dict.fromkeys(stretches, 1)

    def test_thread_by_hand(self):
        # ten stations 12.7 apart, 20 folios of 0.1 mm and two layers of tape of 0.25 mm: 2.5 mm a pass
        #   inside runs                  9 x 12.7       = 114.3
        #   outside, back and forth      9 x 2 x 12.7   = 228.6
        #   passes                       10 x 2 x 2.5   =  50.0
        #   the first loop                               =   6.0
        #   links                        9 x 1.5        =  13.5
        #   hitches                      2 x 9          =  18.0
        #   ends                         2 x 101.6      = 203.2     all together 633.6
        sewing = planned({}, ORCHARD).sewing
        assert sewing.thread_length == pytest.approx(633.6)
        assert sewing.thread_to_cut == pytest.approx(792.0)  # 633.6 x 1.25

    def test_about_two_feet(self):
        """Common practice, no source: thread for a ten-hole single section 5 1/2 in tall is about 2 ft."""
        assert planned({}, ORCHARD).sewing.thread_length == pytest.approx(609.6, rel=0.2)


class TestPamphlet:
    @pytest.mark.parametrize("count", [3, 5, 7])
    def test_sewn(self, count):
        made = planned({**PAMPHLET, "sewing.count": count})
        assert_sewn(made)
        middle = (count + 1) // 2
        path = made.sewing.path
        assert path.legs[0].start == path.legs[-1].end == Place(middle, "inside")
        assert max(_passes(path).values()) == 2
        assert _passes(path)[1] == _passes(path)[count] == 1

    @pytest.mark.parametrize(
        ("count", "way"),
        [(3, [2, 1, 3, 2]), (5, [3, 2, 1, 2, 4, 5, 4, 3]), (7, [4, 3, 2, 1, 2, 3, 5, 6, 7, 6, 5, 4])],
    )
    def test_figure_of_eight(self, count, way):
        path = planned({**PAMPHLET, "sewing.count": count}).sewing.path
        assert [leg.start.station for leg in path.legs if leg.deed == "pass"] == way

    @pytest.mark.parametrize("count", [3, 5, 7])
    def test_every_stretch_is_closed_on_both_sides_but_the_middle_one(self, count):
        """No stretch stays open; inside, one long stitch passes the middle, for the ends to be tied over."""
        made = planned({**PAMPHLET, "sewing.count": count})
        runs = [leg for leg in made.sewing.path.legs if leg.deed == "run"]
        outside = {
            n for leg in runs if leg.start.side == "outside"
            for n in range(min(leg.start.station, leg.end.station), max(leg.start.station, leg.end.station))
        }  # fmt: skip
        inside = {tuple(sorted((leg.start.station, leg.end.station))) for leg in runs if leg.start.side == "inside"}
        middle = (count + 1) // 2
        assert outside >= {middle - 1, middle}
        assert (middle - 1, middle + 1) in inside or (1, 3) in inside
        covered = outside | {n for low, high in inside for n in range(low, high)}
        assert covered == set(range(1, count))

    def test_thread_by_hand(self):
        # stations at 12.7, 75, 137.3; 8 folios of 0.1 and 0.5 of tape: 1.3 a pass
        #   runs 62.3 + 124.6 + 62.3 = 249.2; passes 4 x 1.3 = 5.2; knot 2 x 9 = 18; ends 2 x 85 = 170; together 442.4
        assert planned(PAMPHLET).sewing.thread_length == pytest.approx(442.4)

    def test_libraries(self):
        """8 1/2 in tall: Indiana 21 1/4 in, Alaska 21 to 23 in for five holes, Dorset 25 1/2 in (handbook E8)."""
        made = planned({**PAMPHLET, "text_block.leaf": "5 x 8.5 in", "text_block.folios": 5})
        inches = made.sewing.thread_length / 25.4
        assert len(made.sewing.stations) == 5
        assert min(h.E8_INDIANA_IN, *h.E8_ALASKA_IN) <= inches <= h.E8_DORSET_IN


class TestSteps:
    @pytest.mark.parametrize("changes", [{}, PAMPHLET, {**PAMPHLET, "sewing.count": 7}])
    def test_every_station_is_told(self, changes):
        made = planned(changes)
        text = " ".join(step.text for step in made.sewing.path.steps)
        together = {n for low, high in re.findall(r"stations (\d+) to (\d+)", text) for n in range(int(low), int(high) + 1)}
        for number in range(1, len(made.sewing.stations) + 1):
            assert f"station {number}" in text or f"middle station, {number}" in text or number in together

    @pytest.mark.parametrize(("count", "steps"), [(2, 4), (5, 7), (6, 7), (25, 7), (40, 7)])
    def test_a_long_chain_is_told_in_few_steps(self, count, steps):
        """The first station, the second in two, one more, those between, the last, and the end."""
        assert len(planned({"sewing.count": count}).sewing.path.steps) == steps

    def test_what_is_told_together_is_sewn_together(self):
        """Six legs a station: the stations 4 to 9 are done when those of 2 to 9 are, and the five of the first."""
        done = [step.legs_done for step in planned({"sewing.count": 10}).sewing.path.steps]
        assert done == [5, 7, 11, 17, 53, 59, 61]  # 5 + 2; + 4; + 6; + 6 x 6; + 6; the hitch and the end

    def test_begins_inside(self):
        assert "inside" in planned().sewing.path.steps[0].text
