"""The stitch pictures against the path they are drawn from: strokes for legs, dashed for what is not seen."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from shapely.geometry import LineString, Point, Polygon, box

from bookplates.book.record import Plan
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.thread import Leg, Place, SewingStep, ThreadPath
from bookplates.pipeline import plan as plan_of
from bookplates.plates.drawing import Fill, Item, Label, Stroke
from bookplates.plates.pictures.table import PICTURES
from bookplates.plates.stitches.cells import sewing
from bookplates.plates.stitches.kettle import SIZE, kettle
from bookplates.plates.stitches.picture import finished, picture_size, shown_with, stitch_pictures
from check_book import book
from every_kind import Kind, pairs
from shapes import planned
from test_steps_plate import clashes, letters

SAMPLES = sorted((Path(__file__).parent.parent / "sample_specs").glob("*.toml"))
STRONG, LIGHT = {"thread", "thread behind"}, {"sewn", "sewn behind"}
DASHED = {"thread behind", "sewn behind"}


@cache
def small(style: str, pattern: str) -> Plan:
    return plan_of(Kind(style, pattern, "A4", "upright").spec)


@cache
def sample(path: Path) -> Plan:
    return plan_of(path.read_bytes())


SEWN = [pair for pair in pairs() if pair[1] != "none"]
SEWN_SAMPLES = [path for path in SAMPLES if 'style = "concertina"' not in path.read_text("utf-8")]


@pytest.fixture(params=[*SEWN, *SEWN_SAMPLES], ids=lambda one: one.stem if isinstance(one, Path) else " ".join(one))
def plan(request) -> Plan:
    return sample(request.param) if isinstance(request.param, Path) else small(*request.param)


def strokes(items: tuple[Item, ...], lines: set[str]) -> list[Stroke]:
    return [item for item in items if isinstance(item, Stroke) and item.line in lines]


def sections_in(items: tuple[Item, ...]) -> set[str]:
    """The names below the columns, which stand under the lowest number of a station."""
    words = [item for item in items if isinstance(item, Label)]
    return {word.text for word in words if word.at[1] < 1.0}


def visible(leg: Leg) -> bool:
    return leg.start.side in ("outside", "front") or leg.deed == "wrap"


def in_sight(leg: Leg, items: tuple[Item, ...], plan: Plan) -> bool:
    """Whether the columns of both its ends are shown."""
    named = sections_in(items)
    if plan.sewing.holes or not named:
        return True
    names = {0: "front", plan.text_block.sections + 1: "back"}
    ends = {leg.start.section, leg.end.section, leg.start.section if leg.linked is None else leg.linked}
    return all(names.get(section, str(section)) in named for section in ends)


def test_every_leg_is_shown_with_one_step(plan):
    shown = Counter(one.leg for step in shown_with(plan.sewing.path) for one in step)
    assert shown == Counter(plan.sewing.path.legs)


def test_strong_lines_are_the_legs_of_the_step(plan):
    for items, step in zip(stitch_pictures(plan), shown_with(plan.sewing.path), strict=True):
        legs = [one.leg for one in step if one.leg.deed != "pass" and in_sight(one.leg, items, plan)]
        drawn = strokes(items, STRONG)
        assert len(drawn) == len(legs)
        assert [stroke.line in DASHED for stroke in drawn] == [not visible(leg) for leg in legs]


def test_light_lines_are_the_legs_before_it(plan):
    before: list[Leg] = []
    for items, step in zip(stitch_pictures(plan), shown_with(plan.sewing.path), strict=True):
        legs = [leg for leg in before if leg.deed != "pass" and in_sight(leg, items, plan)]
        drawn = strokes(items, LIGHT)
        assert [stroke.line in DASHED for stroke in drawn] == [not visible(leg) for leg in legs]
        before += [one.leg for one in step]


def test_steps_follow_the_words_but_for_an_end_that_is_tied_later(plan):
    path = plan.sewing.path
    done = [0, *(step.legs_done for step in path.steps)]
    counts = [last - first for first, last in pairwise(done)]
    for n, step in enumerate(path.steps):
        if "Tie the first thread end round" in step.text:
            counts[0], counts[n] = counts[0] - 1, counts[n] + 1
            assert path.legs[1] in [one.leg for one in shown_with(path)[n]]
    assert [len(step) for step in shown_with(path)] == counts


def test_the_first_end_is_tied_where_its_stitch_is_drawn():
    """Chain and link: the inside stitch from station 1 is in this picture or in one before it."""
    for pair in (("taped", "chain"), ("exposed", "link")):
        path = small(*pair).sewing.path
        shown = shown_with(path)
        (tied,) = (
            n for n, step in enumerate(shown) if path.legs[1] in [one.leg for one in step] and path.legs[1].deed == "hitch"
        )
        stitches = [one.leg for step in shown[: tied + 1] for one in step if one.leg.deed == "run"]
        assert any(Place(1, "inside") in (leg.start, leg.end) for leg in stitches)


def circles(items: tuple[Item, ...]) -> list[Point]:
    return [Polygon(item.points).centroid for item in items if isinstance(item, Stroke) and item.line == "hole"]


def test_stations_lie_in_proportion_from_the_head(plan):
    """Distances between circles are to each other as between stations; the head is at the top."""
    sewing = plan.sewing
    places = [y for _, y in sewing.holes] or list(sewing.stations)
    for items in stitch_pictures(plan)[:3]:
        heights = [spot.y for spot in circles(items)[: len(places)]]
        scale = (heights[0] - heights[len(sewing.stations) - 1]) / (places[len(sewing.stations) - 1] - places[0])
        assert scale > 0
        assert heights == pytest.approx([heights[0] - scale * (y - places[0]) for y in places], abs=0.01)


def test_strokes_begin_and_end_near_their_holes(plan):
    """No stitch hangs in the air: both its ends lie within 3.3 mm of a circle, but for what goes round an edge or hangs free."""
    for items, step in zip(stitch_pictures(plan), shown_with(plan.sewing.path), strict=True):
        holes = circles(items)
        legs = [one.leg for one in step if one.leg.deed != "pass" and in_sight(one.leg, items, plan)]
        for stroke, leg in zip(strokes(items, STRONG), legs, strict=True):
            ends = stroke.points[:1] if leg.deed in ("wrap", "end") else (stroke.points[0], stroke.points[-1])
            for end in ends:
                assert min(hole.distance(Point(end)) for hole in holes) < (6.0 if leg.deed == "hitch" else 3.6), leg


@pytest.mark.parametrize("pair", [pair for pair in SEWN if pair[0] != "side-sewn"], ids=" ".join)
def test_what_is_seen_and_what_is_not_lie_on_different_sides(pair):
    """Runs along a spine: outside at the right of their holes, inside at the left."""
    plan = small(*pair)
    for items, step in zip(stitch_pictures(plan), shown_with(plan.sewing.path), strict=True):
        columns = {round(spot.x, 3) for spot in circles(items)}
        legs = [one.leg for one in step if one.leg.deed != "pass" and in_sight(one.leg, items, plan)]
        for stroke, leg in zip(strokes(items, STRONG), legs, strict=True):
            if leg.deed == "run":
                middle = LineString(stroke.points).interpolate(0.5, normalized=True).x
                nearest = min(columns, key=lambda column: abs(column - middle))
                assert (middle > nearest) is visible(leg)


def test_a_hole_is_black_where_this_step_goes_through_it(plan):
    for items, step in zip(stitch_pictures(plan), shown_with(plan.sewing.path), strict=True):
        black = [item for item in items if isinstance(item, Fill) and item.grey < 0.1 and len(item.points) == 8]
        passes = {(one.leg.start.section, one.leg.start.station) for one in step if one.leg.deed == "pass"}
        shown = {
            hole
            for hole in passes
            if in_sight(Leg(Place(1, "inside", hole[0]), Place(1, "inside", hole[0]), "run", 1.0), items, plan)
        }
        assert len(black) == len(shown)


def test_words_meet_nothing_and_all_stay_in_the_picture(plan):
    for opened in (plan, replace(plan, opening="right" if plan.opening == "left" else "left")):
        wide, high = picture_size(opened)
        room = box(-0.1, -0.1, wide + 0.1, high + 0.1)
        for items in stitch_pictures(opened):
            assert not clashes(items)
            for item in items:
                assert room.covers(letters(item) if isinstance(item, Label) else LineString(item.points)), item


def test_the_front_is_at_the_right_of_a_spine_that_opens_at_the_left():
    plan = small("exposed", "link")
    for opened, way in ((plan, -1), (replace(plan, opening="right"), 1)):
        words = {item.text: item.at[0] for item in stitch_pictures(opened)[0] if isinstance(item, Label) and item.at[1] < 1.0}
        assert (words["1"] - words["front"]) * way > 0


def test_the_finished_sewing_is_all_strong():
    plan = book()
    legs = [leg for leg in plan.sewing.path.legs if leg.deed != "pass"]
    assert len(strokes(finished(plan), STRONG)) == len(legs)
    assert not strokes(finished(plan), LIGHT)
    assert PICTURES["sew"](plan, 30.0, 30.0) == finished(plan)


# ---- paths by hand


def by_hand(sections: int, legs: list[Leg], *ends: int) -> Plan:
    """The check book's ten stations, other sections, and a path of three steps or as many as there are `ends`."""
    plan = book()
    steps = tuple(SewingStep(f"Do it {n}.", end) for n, end in enumerate(ends, 1))
    block = replace(plan.text_block, sections=sections, folios_per_section=(4,) * sections)
    return replace(plan, text_block=block, sewing=replace(plan.sewing, path=ThreadPath(tuple(legs), steps)))


def test_only_the_sections_a_step_touches_and_their_neighbours_are_shown():
    out = [Place(1, "outside", n) for n in range(1, 13)]
    legs = [Leg(one, other, "climb", 4.0) for one, other in pairwise(out)]
    pictures = stitch_pictures(by_hand(12, legs, 1, 5, 11))
    assert sections_in(pictures[0]) == {"1", "2", "3"}
    assert sections_in(pictures[1]) == {"4", "5", "6", "7"}  # 2 to 6 and their neighbours are six: the last four of them
    assert sections_in(pictures[2]) == {"9", "10", "11", "12"}


def test_stitches_along_the_same_way_lie_beside_each_other():
    a, b = Place(1, "outside"), Place(5, "outside")
    (items,) = stitch_pictures(by_hand(1, [Leg(a, b, "run", 50.0), Leg(b, a, "run", 50.0)], 2))
    one, other = strokes(items, STRONG)
    inner = [LineString(stroke.points).interpolate(0.5, normalized=True) for stroke in (one, other)]
    assert inner[0].distance(inner[1]) > 0.8  # both are seen: twice the line's 0.45 mm, less a little


def test_a_link_goes_round_the_other_sections_hole():
    at = Place(3, "outside", 2)
    (items,) = stitch_pictures(by_hand(3, [Leg(at, at, "link", 8.0, linked=1)], 1))
    (stroke,) = strokes(items, STRONG)
    first = max(circles(items), key=lambda spot: (spot.x, -abs(spot.y - stroke.points[0][1])))  # section 1 is at the right
    assert Polygon(stroke.points).contains(first)


def test_a_link_on_the_way_goes_round_the_other_sections_stitch_halfway():
    """French link: the stroke meets the stitch of the section before twice, on either side of the middle, and passes it."""
    plan = small("case", "french link")
    seen = set()
    for items, step in zip(stitch_pictures(plan), shown_with(plan.sewing.path), strict=True):
        links = [one.leg for one in step if one.leg.deed == "link" and one.leg.start.station != one.leg.end.station]
        if len(links) != 1 or not in_sight(links[0], items, plan):
            continue
        stroke = max((LineString(one.points) for one in strokes(items, STRONG)), key=lambda line: line.bounds[2] - line.bounds[0])
        middle = (stroke.bounds[1] + stroke.bounds[3]) / 2
        others = [LineString(one.points) for one in strokes(items, LIGHT) if one.line == "sewn"]
        (met,) = (line for line in others if line.crosses(stroke) and abs(line.centroid.y - middle) < 0.5)
        heights = [spot.y for spot in met.intersection(stroke).geoms]
        assert min(heights) < middle < max(heights)
        columns = sorted({round(spot.x, 3) for spot in circles(items)})
        assert stroke.bounds[2] > min(x for x in columns if x > stroke.bounds[0]) + 1.3  # beyond the line of that stitch
        seen.add(links[0].linked)
    assert seen >= {1, 2}


def test_a_hitch_goes_to_the_stitch_that_joins_two_other_sections():
    one, two = Place(9, "outside", 1), Place(9, "outside", 2)
    three = Place(9, "outside", 3)
    legs = [Leg(one, two, "climb", 1.0), Leg(two, three, "climb", 1.0), Leg(three, three, "hitch", 11.0, linked=2)]
    pictures = stitch_pictures(by_hand(3, legs, 2, 3))
    joining = LineString(strokes(pictures[1], LIGHT)[0].points)
    (hitch,) = strokes(pictures[1], STRONG)
    assert joining.crosses(LineString(hitch.points))
    first, last = Point(hitch.points[0]), Point(hitch.points[-1])
    third = min(circles(pictures[1]), key=lambda spot: spot.distance(first))
    assert max(third.distance(first), third.distance(last)) < 1.0  # there and back


@pytest.mark.parametrize("pair", [("case", "tapes"), ("taped", "pamphlet"), ("wrapper", "long stitch"), ("side-sewn", "noble")])
def test_both_ends_meet_in_the_knot(pair):
    """When it is tied the first end comes to the ring, and it does so in every picture after; before, it does not."""
    plan = small(*pair)
    path = plan.sewing.path
    steps = shown_with(path)
    (tied,) = (n for n, step in enumerate(steps) for one in step if one.leg.deed == "knot")
    pictures = stitch_pictures(plan)
    legs = [one.leg for one in steps[tied] if one.leg.deed != "pass"]
    knot = next(stroke for stroke, leg in zip(strokes(pictures[tied], STRONG), legs, strict=True) if leg.deed == "knot")
    ring = Polygon(knot.points[-11:])
    assert LineString(strokes(pictures[tied], LIGHT)[0].points).distance(ring.centroid) < 0.1
    assert LineString(strokes(pictures[tied - 1], LIGHT)[0].points).distance(ring.centroid) > 0.5


def test_the_kettle_stitch_is_drawn_larger_once():
    for pair, expected in (
        (("case", "tapes"), 1),
        (("case", "french link"), 1),
        (("exposed", "link"), 1),
        (("taped", "chain"), 0),
    ):
        labels = [item.text for entry in sewing(small(*pair), 9, 84.0) for item in entry.items if isinstance(item, Label)]
        assert labels.count("kettle stitch, enlarged") == expected


def test_the_enlarged_kettle_stitch_goes_behind_the_stitch_before_and_through_its_own_loop():
    for opening in ("left", "right"):
        items = kettle(replace(small("case", "tapes"), opening=opening), 3)
        (joining,) = (LineString(item.points) for item in items if isinstance(item, Stroke) and item.line == "sewn")
        out, back, up = (LineString(item.points) for item in items if isinstance(item, Stroke) and item.line == "thread")
        assert not joining.intersects(out)
        assert not joining.intersects(back)  # behind it, where the thread is left out
        assert joining.crosses(LineString([out.coords[-1], back.coords[0]]))
        assert up.crosses(out)
        assert not clashes(items)
        room = box(0, 0, *SIZE)
        assert all(room.covers(letters(item) if isinstance(item, Label) else LineString(item.points)) for item in items)


def test_numbers_stand_at_their_holes():
    """Fifteen holes of a tortoise shell, close together: a number that has no room is left out, none drifts away."""
    keys = {"cover.style": "side-sewn", "sewing.pattern": "tortoise shell", "sewing.count": 5, "sewing.inset": 8}
    plan = planned({**keys, "text_block.leaf": "200 x 297 mm"})
    for items, step in zip(stitch_pictures(plan), shown_with(plan.sewing.path), strict=True):
        now = {one.leg.start.station for one in step if one.leg.deed == "pass"}
        spots = circles(items)
        told = [item for item in items if isinstance(item, Label) and item.text.isdigit()]
        for word in told:
            off = abs(letters(word).centroid.y - spots[int(word.text) - 1].y)
            assert off < (1.3 if int(word.text) in now else 0.3), word
        assert now <= {int(word.text) for word in told}


def test_a_wrap_reaches_the_edge_it_goes_round():
    plan = small("side-sewn", "four-hole")
    pictures, steps = stitch_pictures(plan), shown_with(plan.sewing.path)
    seen = set()
    for items, step in zip(pictures, steps, strict=True):
        strip = next(Polygon(item.points) for item in items if isinstance(item, Fill))
        legs = [one.leg for one in step if one.leg.deed != "pass"]
        for stroke, leg in zip(strokes(items, STRONG), legs, strict=True):
            if leg.deed == "wrap":
                far = [Point(point) for point in stroke.points if not strip.contains(Point(point))]
                left, low, right, top = strip.bounds
                assert {"spine": far[0].x < left, "head": far[0].y > top, "tail": far[0].y < low}[leg.edge]
                assert far[0].x < right
                seen.add(leg.edge)
    assert seen == {"spine", "head", "tail"}


def test_sewing_tapes_cross_the_spine_between_their_stations():
    plan = small("case", "tapes")
    items = stitch_pictures(plan)[0]
    bands = [Polygon(item.points).bounds for item in items if isinstance(item, Fill) and 0.84 < item.grey < 0.86]
    assert len(bands) == len(plan.sewing.supports) > 0
    heights = sorted({round(spot.y, 3) for spot in circles(items)}, reverse=True)
    upper, lower = plan.sewing.supports[0]
    scale = (bands[0][3] - bands[0][1]) / (lower - upper)
    assert heights[0] - bands[0][3] == pytest.approx((upper - plan.sewing.stations[0]) * scale, abs=0.01)


def test_every_pattern_is_among_the_pairs():
    assert {pattern for _, pattern in pairs()} == set(PATTERNS)
