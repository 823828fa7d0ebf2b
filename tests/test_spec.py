"""Reading a spec: every key of the design's example is taken, and every kind of slip is told with its line."""

from __future__ import annotations

import math
from typing import Any

import pytest

from bookplates.book.plan import plan
from bookplates.errors import BadSpec
from bookplates.geometry import Size
from bookplates.spec.read import parse, read_spec
from books import EXAMPLE
from shapes import ORCHARD, POOL, changed, planned, problems_in, refusals, toml


def read(text: str) -> Any:
    reading = read_spec(text.encode())
    assert reading.problems == ()
    return reading.spec


def only(text: str | bytes) -> tuple[int, str, str, str]:
    """The one thing that is wrong: line, key, what, hint."""
    ((line, problem),) = problems_in(text)
    return line, problem.where, problem.what, problem.hint


class TestTheExample:
    def test_reads_without_a_word(self):
        spec = read(EXAMPLE)
        plan(spec)
        assert spec.source == EXAMPLE.encode()

    def test_every_key_is_kept(self):
        spec = read(EXAMPLE)
        assert (spec.head.title, spec.head.maker, spec.units) == ("Orchard notebook", "Quince Street Bindery", "in")
        text = spec.text_block
        assert text.sheet == pytest.approx((215.9, 279.4))  # 8.5 x 25.4, 11 x 25.4
        assert (text.format, text.orientation, text.grain, text.sheets, text.sections) == ("quarto", "upright", "long", 10, 1)
        assert (text.opening, text.caliper, text.fold, text.trim) == ("left", 0.1, "sharp", "flush")
        assert (spec.measured.width, spec.measured.height, spec.measured.thickness) == (108, 139.7, 4)
        cover = spec.cover
        assert (cover.style, cover.board, cover.joint, cover.mitre, cover.lining_margin) == ("taped", 2, 6.35, 3, 9.525)
        assert (cover.square.head, cover.square.tail, cover.square.fore_edge) == (3.175, 3.175, 3.175)
        assert (cover.turn_in.head, cover.turn_in.tail, cover.turn_in.fore_edge) == (25.4, 25.4, 25.4)
        assert (cover.tape.width, cover.tape.inside, cover.tape.overlap) == (101.6, "full", 12.7)
        sewing = spec.sewing
        assert (sewing.pattern, sewing.spacing, sewing.end_margin, sewing.hole) == ("chain", 12.7, 12.7, 1)
        assert (sewing.punch_at_once, sewing.thread, sewing.thread_end) == (10, 0.6, 101.6)
        assert spec.print.paper == pytest.approx((215.9, 279.4))
        assert spec.print.margin.model_dump() == {"top": 6.35, "bottom": 6.35, "left": 6.35, "right": 6.35}
        assert (spec.print.bar_across, spec.print.bar_along, spec.print.copies) == (100, 100, 1)

    @pytest.mark.parametrize(
        ("key", "value", "where", "expected"),
        [
            ("text_block.orientation", "oblong", "text_block.leaf_width", 139.7),  # 5 1/2 in is now the width
            ("text_block.grain", "short", "text_block.grain", "across"),
            ("text_block.sheets", 5, "text_block.folios", 10),  # a quarto sheet gives two
            ("text_block.format", "octavo", "text_block.leaf_width", 69.85),  # 5 1/2 in halved
            ("text_block.opening", "right", "opening", "right"),
            ("text_block.caliper", "0.2 mm", "text_block.thickness", 8),  # 40 x 0.2
            ("text_block.fold", "round", "text_block.creep", 2.984513),  # 1.570796 x 19 x 0.1
            ("text_block.trim", "none", "text_block.block_width", 109.85),  # 107.95 + 19 x 0.1
            ("measured.width", "108 mm", "cover.board_width", 104.825),  # 108 + 3.175 - 6.35
            ("measured.height", "139 mm", "cover.board_height", 145.35),  # 139 + 2 x 3.175
            ("measured.thickness", "4.3 mm", "cover.boards_apart", 17),  # 4.3 + 2 x 6.35
            ("cover.board", "1.5 mm", "cover.board_thickness", 1.5),
            ("cover.square", "3 mm", "cover.board_height", 145.7),  # 139.7 + 2 x 3
            ("cover.joint", "5 mm", "cover.boards_apart", 14),  # 4 + 2 x 5
            ("cover.turn_in", "20 mm", "cover.turn_in_head", 20),
            ("cover.mitre", "4 mm", "cover.mitre", 4),
            ("cover.lining_margin", "10 mm", "cover.lining_margin", 10),
            ("tape.width", "90 mm", "tape.on_board", 36.65),  # (90 - 16.7) / 2
            ("tape.inside", "turn-in", "tape.length", 200.85),  # 146.05 + 2 x 2 + 2 x 25.4
            ("tape.overlap", "10 mm", "tape.length", 306.1),  # 2 x 146.05 + 2 x 2 + 10
            ("sewing.spacing", "25 mm", "sewing.stations", (19.85, 44.85, 69.85, 94.85, 119.85)),  # (139.7 - 100) / 2
            ("sewing.end_margin", "25 mm", "sewing.stations", (25.4, 38.1, 50.8, 63.5, 76.2, 88.9, 101.6, 114.3)),
            ("sewing.hole", "2 mm", "sewing.hole", 2),
            ("sewing.punch_at_once", 7, "sewing.punching", ((7, 7, 6),)),
            ("sewing.thread", "1 mm", "sewing.thread", 1),
            ("sewing.thread_end", "50 mm", "sewing.thread_end", 50),
            ("title", "Plums", "title", "Plums"),
            ("maker", "Allotment class", "maker", "Allotment class"),
            ("units", "mm", "units", "mm"),
        ],
    )
    def test_every_key_is_used(self, key, value, where, expected):
        made, usual = planned({key: value}, ORCHARD), planned({}, ORCHARD)
        for name in where.split("."):
            made, usual = getattr(made, name), getattr(usual, name)
        assert made == (
            expected if isinstance(expected, str | tuple) and not isinstance(expected[0], float) else pytest.approx(expected)
        )
        assert made != usual or key == "sewing.end_margin"

    def test_paper_and_bars_reach_the_page(self):
        setup = read(
            EXAMPLE.replace('paper = "Letter"', 'paper = "A4"').replace('bar_along = "100 mm"', 'bar_along = "99 mm"')
        ).setup
        assert setup.paper == Size(210, 297)
        assert setup.reading == Size(100, 99)

    def test_gap_stands_for_the_joint(self):
        # (16 - 4) / 2 = 6
        assert planned({"cover.joint": None, "cover.gap": "16 mm"}, ORCHARD).cover.joint == pytest.approx(6)

    def test_sheets_may_be_given_as_folios_and_leaf(self):
        made = planned({"text_block.leaf": "4.25 x 5.5 in", "text_block.folios": 20, "units": "in"})
        assert (made.text_block.leaf_width, made.text_block.leaf_height) == pytest.approx((107.95, 139.7))
        assert (made.text_block.folios, made.text_block.sheets) == (20, None)

    def test_bare_numbers_are_in_the_units(self):
        assert planned({"units": "in", "cover.joint": 0.25}).cover.joint == pytest.approx(6.35)
        assert planned({"cover.joint": 7}).cover.joint == pytest.approx(7)

    @pytest.mark.parametrize("table", ["square", "turn_in"])
    def test_sides_may_differ_and_the_rest_is_usual(self, table):
        cover = planned({f"cover.{table}": {"head": "14 mm"}, "cover.lining_margin": "8 mm"}).cover
        usual = {"square": 3.175, "turn_in": 25.4}[table]  # 1/8 in, 1 in
        sides = [getattr(cover, f"{table}_{side}") for side in ("head", "tail", "fore_edge")]
        assert sides == pytest.approx([14, usual, usual])

    def test_bars_are_in_the_units_of_the_spec_too(self):
        assert read(EXAMPLE.replace('bar_across = "100 mm"', "bar_across = 3.9")).print.bar_across == pytest.approx(99.06)

    @pytest.mark.parametrize(("units", "paper"), [("mm", Size(210, 297)), ("in", Size(215.9, 279.4))])
    def test_usual_paper(self, units, paper):
        setup = read(toml(changed(POOL, {"units": units}))).setup
        assert setup.paper == pytest.approx(paper)


class TestKeys:
    @pytest.mark.parametrize(
        ("right", "wrong", "nearest"),
        [
            ("text_block.caliper", "text_block.calliper", "caliper"),
            ("cover.joint", "cover.joints", "joint"),
            ("tape.width", "tape.widht", "width"),
            ("sewing.end_margin", "sewing.end_margins", "end_margin"),
            ("print.margin", "print.marign", "margin"),
            ("measured.thickness", "measured.thicknes", "thickness"),
            ("maker", "makers", "maker"),
        ],
    )
    def test_misspelt(self, right, wrong, nearest):
        keys = changed(ORCHARD, {"measured.thickness": "4 mm"})
        text = toml({wrong if key == right else key: value for key, value in keys.items()})
        line, where, what, hint = only(text)
        assert where == wrong
        assert repr(wrong.rpartition(".")[2]) in what
        assert hint == f"the nearest is {nearest}"
        assert wrong.rpartition(".")[2] in text.splitlines()[line - 1]

    def test_misspelt_table(self):
        assert refusals({"text_blokc.folios": 3})["text_blokc"].hint == "the nearest is text_block"

    def test_misspelt_side(self):
        line, where, _, hint = only(toml(changed(POOL, {"cover.square": {"tial": "2 mm"}})))
        assert (line, where, hint) == (8, "cover.square.tial", "the nearest is tail")

    def test_like_nothing_known(self):
        problem = refusals({"sewing.zzz": 1})["sewing.zzz"]
        assert "known are" in problem.hint
        assert "spacing" in problem.hint

    def test_quoted_key_with_a_dot(self):
        assert only(toml(POOL) + '"c.d" = 1\n')[:3] == (8, "cover.c.d", "'c.d' is no key of [cover]")

    @pytest.mark.parametrize("name", ["text_block", "measured", "cover", "tape", "sewing", "print"])
    def test_no_table(self, name):
        keys = {key: value for key, value in POOL.items() if not key.startswith(f"{name}.")}
        line, where, what, hint = only(f"{name} = 3\n" + toml(keys))
        assert (line, where, what) == (1, name, "3 is not a table")
        assert f"[{name}]" in hint

    def test_table_of_an_array(self):
        assert only(toml(POOL) + "[[tape]]\nwidth = 5\n")[:3] == (8, "tape", "a list is not a table")

    @pytest.mark.parametrize(
        ("key", "value"),
        [
            ("title", 3),
            ("maker", True),
            ("units", 1),
            ("text_block.caliper", True),
            ("text_block.caliper", [0.1]),
            ("text_block.leaf", True),
            ("text_block.leaf", [100, 150, 3]),
            ("text_block.leaf", [100, True]),
            ("text_block.folios", 8.0),
            ("text_block.folios", True),
            ("text_block.folios", "8"),
            ("text_block.sections", 1.5),
            ("text_block.opening", "middle"),
            ("text_block.fold", True),
            ("text_block.trim", True),
            ("text_block.trim", "flushed"),
            ("text_block.trim", {}),
            ("measured.width", False),
            ("cover.board", True),
            ("cover.board", "two"),
            ("cover.board", "2 m"),
            ("cover.square", True),
            ("cover.turn_in", ["1 in"]),
            ("cover.mitre", {}),
            ("tape.inside", "half"),
            ("tape.width", "100 mm wide"),
            ("sewing.count", 5.0),
            ("sewing.count", True),
            ("sewing.stations", "20 mm"),
            ("sewing.stations", ["20 mm", True]),
            ("sewing.punch_at_once", "ten"),
            ("print.paper", 210),
            ("print.bar_across", True),
        ],
    )
    def test_wrong_kind(self, key, value):
        text = toml(changed(POOL, {key: value}))
        line, where, what, _ = only(text)
        assert where == key
        assert what
        assert text.splitlines()[line - 1].startswith(key.rpartition(".")[2])

    def test_side_of_the_wrong_kind(self):
        assert only(toml(changed(POOL, {"cover.turn_in": {"head": True}})))[1] == "cover.turn_in.head"

    @pytest.mark.parametrize("value", [math.inf, -math.inf, math.nan])
    @pytest.mark.parametrize(
        "key", ["cover.board", "cover.square", "text_block.folios", "sewing.count", "print.margin", "tape.width"]
    )
    def test_not_finite(self, key, value):
        assert set(refusals({key: value})) == {key}

    @pytest.mark.parametrize("value", [math.inf, math.nan])
    def test_paper_not_finite(self, value):
        assert set(refusals({"text_block.caliper": None, "text_block.grammage": value, "text_block.bulk": value})) == {
            "text_block.grammage",
            "text_block.bulk",
        }

    def test_an_integer_past_all_floats(self):
        _, where, what, _ = only(toml(POOL).replace("folios = 8", "folios = 1" + "0" * 1500))
        assert where == "text_block.folios"
        assert len(what) < 100


# Design, section 5: outside these a number is refused. (key, least, just under, most, just over)
RANGES = [
    ("text_block.leaf", "20 x 150 mm", "19.99 x 150 mm", "1000 x 150 mm", "1000.01 x 150 mm"),
    ("text_block.leaf", "150 x 20 mm", "150 x 19.99 mm", "150 x 1000 mm", "150 x 1000.01 mm"),
    ("text_block.folios", 1, 0, 5000, 5001),
    ("text_block.sections", 1, 0, 500, 501),
    ("text_block.caliper", "0.02 mm", "0.019 mm", "1 mm", "1.001 mm"),
    ("cover.board", "0.3 mm", "0.299 mm", "10 mm", "10.01 mm"),
    ("cover.square", 0, "-0.01 mm", "50 mm", "50.01 mm"),
    ("cover.joint", 0, "-0.01 mm", "5 cm", "5.001 cm"),
    ("cover.gap", 0, "-0.01 mm", "500 mm", "500.01 mm"),
    ("cover.lining_margin", 0, "-0.01 mm", "50 mm", "50.01 mm"),
    ("cover.turn_in", "3 mm", "2.99 mm", "100 mm", "100.01 mm"),
    ("tape.width", "5 mm", "4.99 mm", "300 mm", "300.01 mm"),
    ("tape.turn_in", "3 mm", "2.99 mm", "100 mm", "100.01 mm"),
    ("sewing.spacing", "3 mm", "2.99 mm", "200 mm", "200.01 mm"),
    ("print.bar_across", "95 mm", "94.99 mm", "105 mm", "105.01 mm"),
    ("print.bar_along", "95 mm", "94.99 mm", "105 mm", "105.01 mm"),
]


class TestRanges:
    @pytest.mark.parametrize(("key", "least", "under", "most", "over"), RANGES)
    def test_both_ends_are_in_and_a_step_beyond_is_out(self, key, least, under, most, over):
        for value in (least, most):
            assert read_spec(toml(changed(POOL, {key: value})).encode()).problems == ()
        for value in (under, over):
            text = toml(changed(POOL, {key: value}))
            problems = read_spec(text.encode()).problems
            assert [problem.where for problem in problems] == [key]

    @pytest.mark.parametrize("side", ["head", "tail", "fore_edge"])
    @pytest.mark.parametrize(
        ("table", "good", "bad"), [("square", (0, 50), (-0.01, 50.01)), ("turn_in", (3, 100), (2.99, 100.01))]
    )
    def test_each_side_by_itself(self, side, table, good, bad):
        for value in good:
            assert read_spec(toml(changed(POOL, {f"cover.{table}": {side: value}})).encode()).problems == ()
        for value in bad:
            problems = read_spec(toml(changed(POOL, {f"cover.{table}": {side: value}})).encode()).problems
            assert [problem.where for problem in problems] == [f"cover.{table}.{side}"]

    @pytest.mark.parametrize(("sheets", "wrong"), [(1, False), (5000, False), (0, True), (5001, True)])
    def test_sheets(self, sheets, wrong):
        keys = {"text_block.leaf": None, "text_block.folios": None, "text_block.sheet": "A4", "text_block.format": "folio"}
        found = read_spec(toml(changed(POOL, {**keys, "text_block.sheets": sheets})).encode()).problems
        assert [problem.where for problem in found] == (["text_block.sheets"] if wrong else [])

    def test_folios_out_of_sheets(self):
        # a sheet halved four times gives eight folios: 626 x 8 = 5008
        keys = {"text_block.leaf": None, "text_block.folios": None, "text_block.sheet": "A0", "text_block.format": "sextodecimo"}
        assert "5,008" in refusals({**keys, "text_block.sheets": 626})["text_block.sheets"].what

    def test_the_sentence_says_what_is_allowed(self):
        problem = refusals({"cover.board": "12 mm"})["cover.board"]
        assert str(problem) == "cover.board: 12 mm is out of range; 0.3 mm to 10 mm"

    @pytest.mark.parametrize(("bulk", "wrong"), [(1.0, False), (1.001, True)])
    def test_caliper_out_of_weight_and_bulk(self, bulk, wrong):
        # 1000 g/m2 x 1 cm3/g / 1000 = 1 mm, the most a caliper may be
        changes = {"text_block.caliper": None, "text_block.folios": 2, "text_block.grammage": 1000, "text_block.bulk": bulk}
        assert ("text_block.grammage" in refusals(changes)) == wrong

    def test_caliper_out_of_pounds(self):
        found = refusals({"text_block.caliper": None, "text_block.weight": "1 lb bond", "text_block.bulk": 1.3})
        assert set(found) == {"text_block.weight"}  # 3.76 g/m2 x 1.3 / 1000 = 0.005 mm
        assert "bulk" in found["text_block.weight"].what

    def test_leaf_out_of_a_sheet(self):
        keys = {"text_block.leaf": None, "text_block.sheet": "A7", "text_block.format": "sextodecimo"}
        assert "text_block.format" in refusals(keys)  # A7 halved four times is 18.5 x 26.25 mm


A_FOLIO = {"text_block.leaf": None, "text_block.sheet": "A4", "text_block.format": "folio"}
BY_WEIGHT = {"text_block.caliper": None, "text_block.weight": "20 lb bond", "text_block.bulk": 1.3}
EXCLUDED = [
    ("cover.joint", "cover.gap", {"cover.joint": 6, "cover.gap": 14}),
    ("text_block.sheets", "text_block.folios", A_FOLIO | {"text_block.sheets": 3}),
    ("text_block.sheet", "text_block.leaf", {"text_block.sheet": "A4"}),
    ("text_block.format", "text_block.leaf", {"text_block.format": "folio"}),
    ("text_block.orientation", "text_block.leaf", {"text_block.orientation": "upright"}),
    ("text_block.grain", "text_block.leaf", {"text_block.grain": "long"}),
    ("text_block.sheets", "text_block.leaf", {"text_block.folios": None, "text_block.sheets": 3}),
    ("text_block.grammage", "text_block.caliper", {"text_block.grammage": 90, "text_block.bulk": 1.3}),
    ("text_block.weight", "text_block.caliper", {"text_block.weight": "20 lb bond", "text_block.bulk": 1.3}),
    ("text_block.weight", "text_block.grammage", BY_WEIGHT | {"text_block.grammage": 80}),
    ("sewing.spacing", "sewing.count", {"sewing.spacing": 20, "sewing.count": 5}),
    ("sewing.spacing", "sewing.stations", {"sewing.spacing": 20, "sewing.stations": [20, 130]}),
    ("sewing.count", "sewing.stations", {"sewing.count": 2, "sewing.stations": [20, 130]}),
]  # fmt: skip

NEEDED = [
    ("text_block.grammage", "bulk", {"text_block.caliper": None, "text_block.grammage": 90}),
    ("text_block.weight", "bulk", {"text_block.caliper": None, "text_block.weight": "20 lb bond"}),
    ("text_block.bulk", "grammage", {"text_block.caliper": None, "text_block.bulk": 1.3}),
    ("text_block.sheet", "format", {"text_block.leaf": None, "text_block.sheet": "A4"}),
    ("text_block.format", "sheet", {"text_block.leaf": None, "text_block.format": "folio"}),
]


class TestKeysTogether:
    @pytest.mark.parametrize(("key", "other", "changes"), EXCLUDED)
    def test_both_are_named(self, key, other, changes):
        problem = refusals(changes)[key]
        assert other.partition(".")[2] in problem.what
        assert "excludes" in problem.what

    @pytest.mark.parametrize(("key", "partner", "changes"), NEEDED)
    def test_the_one_that_is_lacking_is_named(self, key, partner, changes):
        assert partner in refusals(changes)[key].what

    def test_one_of_two_is_needed(self):
        line, where, what, hint = only(toml(changed(POOL, {"text_block.folios": None})))
        assert (line, where) == (2, "text_block.sheets")
        assert "folios" in what
        assert hint == "sheets or folios"

    def test_a_default_never_counts_as_written(self):
        assert refusals({"cover.gap": 14}) == {}

    @pytest.mark.parametrize("written", [0, "0 mm"])
    def test_nought_counts_as_written(self, written):
        assert "cover.joint" in refusals({"cover.joint": written, "cover.gap": 14})


class TestMissing:
    def test_title(self):
        assert only(toml(changed(POOL, {"title": None})))[:3] == (1, "title", "is missing")

    @pytest.mark.parametrize("title", ["", "   "])
    def test_empty_title(self, title):
        assert only(toml(changed(POOL, {"title": title})))[:3] == (1, "title", "is empty")

    def test_text_block(self):
        found = problems_in('title = "x"\n[cover]\nstyle = "taped"\n')
        assert {(line, problem.where) for line, problem in found} == {(1, "text_block.sheet"), (1, "text_block.sheets")}

    def test_style_is_told_at_its_table(self):
        line, where, what, hint = only(toml(changed(POOL, {"cover.style": None, "cover.board": 2})))
        assert (line, where, what) == (6, "cover.style", "is missing")
        assert "taped" in hint

    def test_style_without_a_table(self):
        assert only(toml(changed(POOL, {"cover.style": None})))[:2] == (1, "cover.style")

    def test_an_empty_file(self):
        assert {problem.where for _, problem in problems_in("")} == {
            "title",
            "text_block.sheet",
            "text_block.sheets",
            "cover.style",
        }


class TestKinds:
    @pytest.mark.parametrize("value", ["tapped", "glued", "", 3, ["taped"], True])
    def test_unknown_style(self, value):
        line, where, what, hint = only(toml(changed(POOL, {"cover.style": value})))
        assert (line, where) == (6 + 1, "cover.style")
        assert "there is no style" in what
        assert "taped" in hint

    @pytest.mark.parametrize("value", ["chian", "blanket", 7, [], True])
    def test_unknown_pattern(self, value):
        _, where, what, hint = only(toml(changed(POOL, {"sewing.pattern": value})))
        assert where == "sewing.pattern"
        assert "there is no pattern" in what
        assert "chain" in hint
        assert "pamphlet" in hint

    def test_a_misspelt_pattern_hides_nothing(self):
        found = problems_in(
            toml(changed(POOL, {"sewing.pattern": "chian", "sewing.hole": True, "cover.style": "tapd", "cover.board": 99}))
        )
        assert {problem.where for _, problem in found} == {"sewing.pattern", "sewing.hole", "cover.style", "cover.board"}

    def test_the_usual_pattern(self):
        assert planned().sewing.pattern == "chain"


class TestNotTOML:
    @pytest.mark.parametrize(
        ("text", "line", "quoted"),
        [
            ('title = "x"\n[cover\nstyle = "taped"\n', 2, "[cover"),
            ('title = "x\n', 1, 'title = "x'),
            ("title = Orchard\n", 1, "title = Orchard"),
            ('title = "x"\r\n\r\nboard 2 mm\r\n', 3, "board 2 mm"),
            ('title = "a"\ntitle = "b"\n', 2, 'title = "b"'),
            ("[cover]\nboard = 2\nboard = 3\nsquare = 4\n", 3, "board = 3"),
            ("[tape]\n[cover]\n[tape]\n", 3, "[tape]"),
            ('["line 99"]\n["line 99"]\n', 2, '["line 99"]'),
            ('title = "a\x07b"\n', 1, "title ="),
            ("a = 2020-02-31\n", 1, "a = 2020-02-31"),
            ("a = [1,\n\n", 1, "a = [1,"),
        ],
    )
    def test_quotes_the_line(self, text, line, quoted):
        found, where, what, _ = only(text)
        assert (found, where) == (line, "")
        assert quoted in what
        assert "\x07" not in what

    def test_not_utf_8(self):
        assert only(b'title = "x"\nmaker = "Caf\xe9"\n')[:3] == (2, "", "the spec is not UTF-8 text")

    def test_utf_16(self):
        assert "UTF-8" in only(toml(POOL).encode("utf-16"))[2]

    def test_a_byte_order_mark_is_no_fault(self):
        assert problems_in(b"\xef\xbb\xbf" + toml(POOL).encode()) == []

    def test_64_kib_and_no_more(self):
        text = toml(POOL).encode()
        full = text + b"#\n" * ((65536 - len(text)) // 2)
        full += b"\n" * (65536 - len(full))
        assert problems_in(full) == []
        assert only(full + b"\n")[3] == "64 KiB at most"

    @pytest.mark.parametrize("ending", ["\n", "\r\n", ""])
    def test_2000_characters_a_line_and_no_more(self, ending):
        text = toml(POOL)
        assert problems_in(text + "#" + "é" * 1999 + ending) == []
        line, _, what, _ = only(text + "#" + "é" * 2000 + ending)
        assert (line, "2,001" in what) == (8, True)

    def test_other_separators_make_no_line(self):
        assert only(toml(POOL) + "# a\u2028b\x85c\n" + "#" * 2001)[0] == 9

    @pytest.mark.parametrize("opening", ["[", "{a=", "[["])
    def test_nested_too_deep(self, opening):
        text = "a = " + "\n".join([opening * 400] * 50)
        with pytest.raises(BadSpec):
            parse(text.encode())

    def test_nested_deep_but_well(self):
        found = problems_in(toml(POOL) + "a = " + "[" * 60 + "]" * 60)
        assert [problem.where for _, problem in found] == ["cover.a"]

    def test_an_integer_of_5000_digits(self):
        with pytest.raises(BadSpec) as caught:
            parse(b"a = " + b"9" * 5000)
        assert len(str(caught.value)) < 200

    def test_an_integer_python_will_not_read(self, monkeypatch):
        import sys

        before = sys.get_int_max_str_digits()
        sys.set_int_max_str_digits(640)
        try:
            with pytest.raises(BadSpec, match="number"):
                parse(b"a = " + b"9" * 641)
        finally:
            sys.set_int_max_str_digits(before)


class TestTitle:
    @pytest.mark.parametrize(
        "letter", ["\x00", "\x07", "\t", "\n", "\x1b", "\x7f", "\x85", "\u200b", "\u202e", "\u2028", "\ufeff"]
    )
    @pytest.mark.parametrize("key", ["title", "maker"])
    def test_control_characters(self, key, letter):
        escaped = f'"a\\u{ord(letter):04X}b"'
        text = toml(changed(POOL, {key: "@@"})).replace('"@@"', escaped)
        _, where, what, _ = only(text)
        assert where == key
        assert f"U+{ord(letter):04X}" in what
        assert letter not in what

    @pytest.mark.parametrize("word", ["\u05e9\u05dc\u05d5\u05dd", "\u5e93", "\U0001f34e", "q\u0308\u0323"])
    def test_letters_that_cannot_be_printed(self, word):
        _, where, what, _ = only(toml(changed(POOL, {"title": word})))
        assert where == "title"
        assert "letters that the printed font lacks" in what

    @pytest.mark.parametrize("word", ["Łódź, ogród", "Möhren & Äpfel ½", "Κήπος", "Сад", "[b]bold[/b]", "50 % (off)\\"])
    def test_letters_that_can(self, word):
        assert planned({"title": word}).title == word

    def test_uncomposed_letters_are_composed(self):
        assert planned({"title": "Cafe\u0301"}).title == "Caf\u00e9"

    def test_length(self):
        assert planned({"title": "a" * 200}).title == "a" * 200
        assert set(refusals({"title": "a" * 201})) == {"title"}


class TestManyAtOnce:
    def test_every_one_with_its_line(self):
        text = """\
maker = 3
units = "furlong"

[text_block]
leaf = "100 x 150 mm"
folios = 0
calliper = "0.1 mm"

[cover]
style = "taped"
board = "20 mm"
square = { head = 1, tail = "2 mms" }
joint = 6
gap = "14 mm"

[sewing]
pattern = "pamphlet"
count = true
stations = [
  20,
]

[print]
margin = "1/4 yard"
"""
        found = sorted((line, problem.where) for line, problem in problems_in(text))
        assert found == [
            (1, "maker"),
            (1, "title"),
            (2, "units"),
            (6, "text_block.folios"),
            (7, "text_block.calliper"),
            (11, "cover.board"),
            (12, "cover.square.tail"),
            (13, "cover.joint"),
            (18, "sewing.count"),
            (24, "print.margin"),
        ]

    def test_what_hangs_on_one_table_is_told_beside_the_fault_of_another(self):
        found = refusals({"sewing.hole": True, "tape.width": "10 mm", "cover.mitre": "1 mm"})
        assert {"sewing.hole", "tape.width", "cover.mitre"} <= set(found)

    def test_nothing_is_told_twice(self):
        told = [
            str(problem) for _, problem in problems_in("title = 3\nsewing = 3\nprint = 4\ntape = 1\ncover = 2\ntext_block = []\n")
        ]
        assert len(told) == len(set(told)) == 6


class TestPrinting:
    def test_a_plan_is_made_whatever_stands_in_print(self):
        text = toml(changed(POOL, {"print.margin": "400 mm", "print.papier": "A4"}))
        reading = read_spec(text.encode(), for_printing=False)
        assert reading.problems == ()
        told = {problem.where for problem in plan(reading.spec).warnings}
        assert {"print.margin", "print.papier"} <= told
        assert {problem.where for _, problem in problems_in(text)} == {"print.margin", "print.papier"}
