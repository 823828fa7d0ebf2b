"""The plan: the check book by hand, its JSON, its defaults, and what holds for any taped book."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookplates.book.as_json import plan_as_json
from bookplates.book.plan import plan
from bookplates.book.record import Plan
from bookplates.errors import BadSpec
from bookplates.spec.read import read_spec
from shapes import ORCHARD, POOL, assert_true_outline, changed, planned, polygon, refusals, toml

QUICK = settings(deadline=None, derandomize=True, max_examples=80)


class TestCheckBook:
    """Ten Letter sheets as quarto, 0.1 mm paper, one section, everything as in the design. Lengths in mm, 1 in = 25.4."""

    MADE = planned({}, ORCHARD)

    def test_text_block(self):
        text = self.MADE.text_block
        assert (text.folios, text.leaves, text.pages, text.folios_per_section) == (20, 40, 80, (20,))  # 10 x 2, x 2, x 4
        assert (text.leaf_width, text.leaf_height) == pytest.approx((107.95, 139.7))  # 4 1/4, 5 1/2 in
        assert text.thickness == pytest.approx(4)  # 40 x 0.1
        assert text.creep == pytest.approx(1.9)  # 19 x 0.1
        assert text.block_width == pytest.approx(107.95)
        assert text.grain == "head to tail"

    def test_cover(self):
        cover = self.MADE.cover
        assert (cover.board_width, cover.board_height) == pytest.approx((104.775, 146.05))  # 4 1/8, 5 3/4 in
        assert cover.boards_apart == pytest.approx(16.7)  # 4 + 2 x 6.35
        assert (cover.open_width, cover.open_height) == pytest.approx((226.25, 146.05))  # 2 x 104.775 + 16.7
        assert cover.corner_lap == pytest.approx(3.171573, abs=1e-6)  # 6 - 2 x 1.414214

    @pytest.mark.parametrize(
        ("name", "width", "height"),
        [
            ("text sheet", 215.9, 279.4),  # 8 1/2, 11 in
            ("front board", 104.775, 146.05),
            ("back board", 104.775, 146.05),
            ("front covering", 130.175, 196.85),  # 5 1/8, 7 3/4 in
            ("back covering", 130.175, 196.85),
            ("front lining", 95.25, 127.0),  # 3 3/4, 5 in
            ("back lining", 95.25, 127.0),
            ("tape", 101.6, 308.8),  # 4 in; 2 x 146.05 + 2 x 2 + 12.7
        ],
    )
    def test_pieces(self, name, width, height):
        piece = self.MADE.piece(name)
        assert (piece.width, piece.height) == pytest.approx((width, height))

    def test_no_other_pieces(self):
        assert len(self.MADE.pieces) == 8
        assert self.MADE.piece("text sheet").count == 10

    def test_tape(self):
        assert self.MADE.tape.on_board == pytest.approx(42.45)  # (101.6 - 16.7) / 2

    def test_stations(self):
        # 1/2, 1, 1 1/2 ... 5 in; on the cover 1/8 in lower
        assert self.MADE.sewing.stations == pytest.approx((12.7, 25.4, 38.1, 50.8, 63.5, 76.2, 88.9, 101.6, 114.3, 127.0))
        lower = (15.875, 28.575, 41.275, 53.975, 66.675, 79.375, 92.075, 104.775, 117.475, 130.175)
        assert self.MADE.sewing.cover_stations == pytest.approx(lower)

    def test_thread(self):
        assert self.MADE.sewing.thread_length == pytest.approx(634, rel=0.2)

    def test_punching(self):
        assert self.MADE.sewing.punching == ((10, 10),)

    def test_warnings(self):
        assert {problem.where for problem in self.MADE.warnings} == {"text_block.sheets", "sewing.punch_at_once"}

    def test_plates(self):
        plates = [
            "scale page",
            "board outline",
            "wrap outline",
            "lining outline",
            "tape guide",
            "spacer",
            "cover punch guide",
            "punch guide",
        ]
        assert list(dict.fromkeys(layout.plate for layout in self.MADE.layouts)) == plates

    def test_punch_guide(self):
        (guide,) = self.MADE.layouts_of("punch guide")
        assert guide.part("punch guide").box.size == pytest.approx((215.9, 139.7))  # a whole dummy folio: 2 x 107.95
        for number, from_head in enumerate(self.MADE.sewing.stations, 1):
            assert guide.part(f"station {number}").box.middle == pytest.approx((0, 139.7 - from_head))


# Design, section 6, word for word
JSON_KEYS = {
    "": "title units text_block cover pieces sewing tape warnings",
    "text_block": "leaf_width leaf_height block_width folios leaves pages sections folios_per_section caliper section_thickness "
    "thickness creep fore_edge_trim grain",
    "cover": "style board_width board_height board_thickness boards_apart spine_piece_width gap open_width open_height",
    "sewing": "pattern stations cover_stations holes thread_length thread_to_cut steps",
    "tape": "width length on_board guide_offset",
}


class TestJSON:
    @pytest.mark.parametrize("base", [POOL, ORCHARD])
    @pytest.mark.parametrize(("table", "names"), list(JSON_KEYS.items()))
    def test_keys(self, base, table, names):
        found = plan_as_json(planned({}, base))
        held = found[table] if table else found
        assert set(names.split()) <= set(held)

    def test_pieces(self):
        for piece in plan_as_json(planned())["pieces"]:
            assert set(piece) == {"name", "material", "count", "width", "height", "outline", "grain"}
            assert piece["material"] in ("board", "cover paper", "lining paper", "text paper", "tape")

    def test_warnings(self):
        for warning in plan_as_json(planned({}, ORCHARD))["warnings"]:
            assert set(warning) == {"where", "what", "hint"}

    def test_what_a_style_has_none_of(self):
        found = plan_as_json(planned())
        assert (found["cover"]["spine_piece_width"], found["cover"]["gap"], found["sewing"]["holes"]) == (None, None, [])

    def test_nothing_but_plain_values(self):
        found = plan_as_json(planned({}, ORCHARD))
        assert json.loads(json.dumps(found, allow_nan=False)) == found

    def test_rounded_no_further_than_a_millionth(self):
        found = plan_as_json(planned({"text_block.fold": "round", "text_block.trim": "flush"}))
        assert found["text_block"]["creep"] == pytest.approx(1.0995574287564276, abs=5.1e-7)  # pi / 2 x 0.7

    def test_no_minus_nought(self):
        assert "-0.0" not in json.dumps(plan_as_json(planned({"cover.square": 0})))

    def test_legs(self):
        made = planned()
        legs = plan_as_json(made)["sewing"]["legs"]
        assert sum(leg["length"] for leg in legs) == pytest.approx(made.sewing.thread_length, abs=1e-3)


class TestDefaults:
    def test_a_minimal_spec_works(self):
        made = planned({"text_block.caliper": None})
        listed = {default.where: default.value for default in made.defaults}
        assert listed == {
            "units": "mm",
            "text_block.sections": "1",
            "text_block.opening": "left",
            "text_block.fold": "sharp",
            "text_block.trim": "flush",
            "text_block.caliper": "0.1 mm",
            "cover.board": "2 mm",
            "cover.square": "3.18 mm (1/8 in)",
            "cover.joint": "6.35 mm (1/4 in)",
            "cover.turn_in": "25.4 mm (1 in)",
            "cover.mitre": "3 mm (1/8 in -0.2 mm), 1.5 x the board",
            "cover.lining_margin": "9.53 mm (3/8 in)",
            "tape.width": "101.6 mm (4 in)",
            "tape.inside": "full",
            "tape.overlap": "12.7 mm (1/2 in)",
            "sewing.pattern": "chain",
            "sewing.spacing": "12.7 mm (1/2 in)",
            "sewing.end_margin": "12.7 mm (1/2 in)",
            "sewing.hole": "1 mm",
            "sewing.punch_at_once": "10",
            "sewing.thread": "0.5 mm",
            "sewing.thread_end": "85 mm (3 11/32 in +0.1 mm)",
            "print.paper": "A4",
            "print.margin": "6.35 mm (1/4 in)",
            "print.copies": "1",
            "print.overlap": "10 mm (13/32 in -0.3 mm)",  # 13/32 x 25.4 = 10.319
        }

    @pytest.mark.parametrize("key", [key for key in ORCHARD if key != "sewing.end_margin"])
    def test_what_is_written_is_no_default(self, key):
        assert key not in [default.where for default in planned({}, ORCHARD).defaults]

    def test_the_joint_where_a_gap_is_written(self):
        listed = [default.where for default in planned({"cover.gap": 16}).defaults]
        assert "cover.joint" not in listed
        assert "cover.gap" not in listed


class TestRefusals:
    def test_every_refusal_at_once(self):
        found = refusals({"tape.width": "10 mm", "cover.mitre": "1 mm", "cover.lining_margin": "30 mm", "sewing.count": 1})
        assert set(found) == {"tape.width", "cover.mitre", "cover.lining_margin", "sewing.count"}

    def test_plan_raises_them_all(self):
        spec = read_spec(toml(changed(POOL, {"tape.width": "10 mm", "sewing.count": 1})).encode()).spec
        with pytest.raises(BadSpec) as caught:
            plan(spec)
        assert {problem.where for problem in caught.value.problems} == {"tape.width", "sewing.count"}

    def test_print_is_never_a_reason(self):
        assert planned({"print.paper": [100, 100], "print.margin": 30}).title == "Tide pool notes"


# --- what holds for any book --------------------------------------------------------------------------------------------


def _numbers(value: Any) -> Any:
    if isinstance(value, dict):
        for inner in value.values():
            yield from _numbers(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _numbers(inner)
    elif isinstance(value, float):
        yield value


def _geometry(made: Plan) -> dict[str, Any]:
    found = plan_as_json(made)
    return {key: found[key] for key in ("text_block", "cover", "pieces", "layouts", "tape")} | {
        "sewing": {key: value for key, value in found["sewing"].items() if key != "steps"}
    }


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list):
        return len(one) == len(other) and all(map(_same, one, other))
    return math.isclose(one, other, abs_tol=2e-6) if isinstance(one, float) else one == other


PARTS = {  # in sixty-fourths of an inch
    "text_block.caliper": (1, 2),
    "cover.board": (4, 16),
    "cover.square": (0, 20),
    "cover.joint": (0, 30),
    "cover.turn_in": (64, 96),
    "cover.lining_margin": (8, 24),
    "tape.width": (200, 320),
    "tape.overlap": (16, 60),
    "sewing.spacing": (20, 80),
    "sewing.end_margin": (16, 60),
    "sewing.thread_end": (64, 300),
}


@QUICK
@given(
    st.tuples(st.integers(256, 640), st.integers(300, 700)),
    st.fixed_dictionaries({key: st.integers(*span) for key, span in PARTS.items()}),
    st.integers(1, 8),
)
def test_millimetres_and_inches_are_the_same_book(leaf, parts, folios):
    always = {"title": "Both", "text_block.folios": folios, "cover.style": "taped", "print.paper": "A4"}
    inches = {key: count / 64 for key, count in parts.items()}
    metric = {key: f"{count * 0.396875!r} mm" for key, count in parts.items()}  # 25.4 / 64
    by_inch = {**always, "units": "in", "text_block.leaf": [f"{side}/64 in" for side in leaf], **inches}
    by_mm = {**always, "units": "mm", "text_block.leaf": [side * 0.396875 for side in leaf], **metric}
    assert _same(_geometry(planned({}, by_inch)), _geometry(planned({}, by_mm)))


def _length(least: float, most: float) -> st.SearchStrategy[str]:
    return st.floats(least, most).map(lambda mm: f"{mm:.3f} mm")


def _sides(least: float, most: float) -> st.SearchStrategy[Any]:
    one = _length(least, most)
    return st.one_of(one, st.dictionaries(st.sampled_from(["head", "tail", "fore_edge"]), one, max_size=3))


OPTIONAL = {
    "text_block.sections": st.sampled_from([1, 1, 1, 2]),
    "text_block.opening": st.sampled_from(["left", "right"]),
    "text_block.fold": st.sampled_from(["sharp", "round"]),
    "text_block.trim": st.one_of(st.sampled_from(["flush", "none"]), _length(0, 20)),
    "text_block.caliper": _length(0.02, 1),
    "measured.width": _length(10, 400),
    "measured.height": _length(20, 400),
    "measured.thickness": _length(0.02, 60),
    "cover.board": _length(0.3, 10),
    "cover.square": _sides(0, 50),
    "cover.joint": _length(0, 50),
    "cover.turn_in": _sides(3, 100),
    "cover.mitre": _length(0, 60),
    "cover.lining_margin": _length(0, 50),
    "tape.width": _length(5, 300),
    "tape.inside": st.sampled_from(["full", "turn-in"]),
    "tape.turn_in": _length(3, 100),
    "tape.overlap": _length(0, 100),
    "sewing.pattern": st.sampled_from(["chain", "pamphlet"]),
    "sewing.end_margin": _length(0, 60),
    "sewing.hole": _length(0.3, 5),
    "sewing.thread_end": _length(0, 300),
    "sewing.punch_at_once": st.integers(1, 20),
    "print.paper": st.sampled_from(["A4", "Letter", "A3"]),
}
STATIONS = st.one_of(
    st.fixed_dictionaries({}),
    st.fixed_dictionaries({"sewing.spacing": _length(3, 200)}),
    st.fixed_dictionaries({"sewing.count": st.integers(1, 40)}),
    st.fixed_dictionaries({"sewing.stations": st.lists(_length(-5, 300), max_size=6)}),
    st.fixed_dictionaries(
        {"sewing.stations": st.lists(_length(5, 150), max_size=6).map(lambda found: sorted(found, key=lambda s: float(s[:-3])))}
    ),
)
LEAF = st.one_of(
    st.fixed_dictionaries(
        {"text_block.leaf": st.tuples(_length(20, 400), _length(20, 400)).map(list), "text_block.folios": st.integers(1, 60)}
    ),
    st.fixed_dictionaries(
        {
            "text_block.sheet": st.sampled_from(["A4", "Letter", "A2", "Craft 12 in"]),
            "text_block.format": st.sampled_from(["folio", "quarto", "octavo", "sextodecimo"]),
            "text_block.orientation": st.sampled_from(["upright", "oblong"]),
            "text_block.sheets": st.integers(1, 12),
        }
    ),
)
MODEST = {
    "cover.square": _sides(0, 8),
    "cover.joint": _length(3, 12),
    "cover.turn_in": _sides(15, 30),
    "cover.board": _length(0.5, 3),
    "cover.lining_margin": _length(3, 10),
    "tape.inside": st.sampled_from(["full", "turn-in"]),
    "tape.overlap": _length(0, 40),
    "text_block.opening": st.sampled_from(["left", "right"]),
    "text_block.trim": st.one_of(st.sampled_from(["flush", "none"]), _length(0, 8)),
}
BASE = {"title": "Any", "cover.style": "taped"}


def assert_complete(made: Plan) -> None:
    """Assert a plan that holds together whatever the book."""
    for piece in made.pieces:
        assert_true_outline(piece.outline)
    found = plan_as_json(made)
    assert all(map(math.isfinite, _numbers(found)))
    for layout in made.layouts:
        names = [part.name for part in layout.parts]
        assert len(names) == len(set(names))
        for part in layout.parts:
            assert len(part.points) >= 2
            if part.closed and part.line != "hole":
                assert polygon(part.points).is_valid
    cuts = [(layout.plate, part.name) for layout in made.layouts for part in layout.parts if part.line == "cut"]
    assert len(cuts) == len(set(cuts))
    assert made.cover.open_width == pytest.approx(2 * made.cover.board_width + made.cover.boards_apart)
    assert all(problem.where and problem.what for problem in made.warnings)
    assert len(made.sewing.stations) >= 2


def _plan_or_refusal(keys: dict[str, Any]) -> Plan | None:
    reading = read_spec(toml(keys).encode())
    assert all(problem.where and problem.hint for problem in reading.problems)
    if reading.problems or reading.spec is None:
        assert reading.problems
        return None
    try:
        return plan(reading.spec)
    except BadSpec as error:
        told = error.problems
    assert told
    assert all(problem.where and problem.what and problem.hint for problem in told)
    return None


@settings(QUICK, max_examples=250)
@given(LEAF, st.fixed_dictionaries({}, optional=OPTIONAL), STATIONS)
def test_any_spec_is_a_plan_or_a_refusal(leaf, keys, stations):
    made = _plan_or_refusal({**BASE, **leaf, **keys, **stations})
    if made is not None:
        assert_complete(made)


@QUICK
@given(st.tuples(_length(90, 300), _length(110, 400)), st.integers(1, 20), st.fixed_dictionaries({}, optional=MODEST))
def test_a_modest_book_is_always_a_plan(leaf, folios, keys):
    made = _plan_or_refusal({**BASE, "text_block.leaf": list(leaf), "text_block.folios": folios, **keys})
    assert made is not None
    assert_complete(made)


@QUICK
@given(st.fixed_dictionaries({}, optional=MODEST))
def test_a_plan_is_the_same_every_time(keys):
    assert planned(keys) == planned(keys)
