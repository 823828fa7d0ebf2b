"""Whether the paper on the table suffices, the ways out, and the largest book: each way made, numbers by hand."""

from __future__ import annotations

import json
import re

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from bookplates.book.plan import plan
from bookplates.errors import BadSpec
from bookplates.geometry import Size
from bookplates.pipeline import make_pack
from bookplates.pipeline.book import checked_spec
from bookplates.pipeline.paper import fit
from bookplates.readback import measure_pdf
from bookplates.report.fit import fit_table
from bookplates.spec.stock import Stock
from bookplates.workshop.cuts import Entry
from bookplates.workshop.fitting.answer import Answer
from bookplates.workshop.fitting.fit import on_stock
from bookplates.workshop.fitting.search import last_that_works
from bookplates.workshop.fitting.way import Way
from bookplates.workshop.fitting.written import down, length_key, size_key, toml_lines
from bookplates.workshop.lying import fitting
from bookplates.workshop.needs import Need
from bookplates.workshop.table import table
from books import ORCHARD
from commands import bookplates
from page_check import findings

PAD = '[[stock]]\nmaterial = "cover paper"\nname = "harbour pad"\nsize = "8 x 8 in"\n'
CHECK_BOOK = ORCHARD + PAD
ONE_PIECE = """\
title = "Orchard notebook"
units = "in"
[text_block]
sheet = "Letter"
format = "quarto"
sheets = 10
caliper = "0.1 mm"
[cover]
style = "case"
turn_in = "1 in"
[sewing]
pattern = "pamphlet"
"""


def stock(material: str, size: str, *keys: str) -> str:
    return "\n".join(["[[stock]]", f'material = "{material}"', 'name = "harbour pad"', f'size = "{size}"', *keys, ""])


def book(style: str, leaf: str, *stocks: str, cover: str = "", text: str = "folios = 8") -> str:
    return f"""\
title = "Tide pool notes"
[text_block]
leaf = "{leaf}"
{text}
[cover]
style = "{style}"
{cover}
{"".join(stocks)}"""


FOUR_SECTIONS = "folios = 24\nsections = 4"
SPECS = {
    "check book": CHECK_BOOK,
    "one piece": ONE_PIECE + PAD,
    "lap and turn-in": CHECK_BOOK.replace("8 x 8 in", "4.25 x 7.25 in"),
    "too few": CHECK_BOOK + "count = 1\n",
    "case, sections": book("case", "105 x 148 mm", stock("cover paper", "200 x 250 mm"), text=FOUR_SECTIONS),
    "quarter": book(
        "case", "105 x 148 mm", stock("cover paper", "110 x 185 mm"), cover='covering = "quarter"', text=FOUR_SECTIONS
    ),
    "half": book("case", "150 x 210 mm", stock("cover paper", "150 x 245 mm"), cover='covering = "half"', text=FOUR_SECTIONS),
    "wrapper": book("wrapper", "105 x 148 mm", stock("card", "A5 landscape", 'grain = "short"')),
    "wrapper, grain": book("wrapper", "105 x 148 mm", stock("card", "160 x 220 mm", 'grain = "long"')),
    "exposed": book("exposed", "105 x 148 mm", stock("cover paper", "140 x 200 mm"), text=FOUR_SECTIONS),
    "hinged": book(
        "side-sewn", "150 x 105 mm", stock("cover paper", "200 x 140 mm", 'pattern = "one-way"'), cover='hinge = "20 mm"'
    ),
    "concertina": book("concertina", "100 x 140 mm", stock("cover paper", "135 x 180 mm", 'grain = "long"')),
    "two stocks": book(
        "taped", "105 x 148 mm", stock("cover paper", "120 x 180 mm"), stock("cover paper", "230 x 120 mm", 'pattern = "two-way"')
    ),
    "board": book("taped", "105 x 148 mm", stock("board", "150 x 180 mm", 'grain = "short"'), stock("text paper", "A4")),
}


def answer(text: str, *, largest: bool = False) -> Answer:
    return fit(text, largest=largest).answer


def way(found: Answer, *kinds: str) -> Way:
    (only,) = (one for one in found.ways if one.kinds == kinds)
    return only


def sizes(one: Way, material: str = "cover paper") -> dict[str, tuple[float, float]]:
    return {n.name: (round(n.size.width, 3), round(n.size.height, 3)) for n in one.pieces if n.material == material}


class TestCheckBook:
    """The book of the design on craft paper of 8 x 8 in, 203.2 mm a side."""

    def test_two_coverings_take_two_sheets(self):
        # board 4 1/4 + 1/8 - 1/4 = 4 1/8 in wide; covering 4 1/8 + 1 = 5 1/8 in by 5 1/2 + 2 x 1/8 + 2 = 7 3/4 in
        found = answer(CHECK_BOOK)
        first = way(found, "as written")
        assert first.works
        assert sizes(first) == {"front covering": (130.175, 196.85), "back covering": (130.175, 196.85)}
        assert first.trial.table.of("cover paper").used == 2  # 2 x 5 1/8 = 10 1/4 in side by side, and 8 there are

    def test_what_is_left_beside_one(self):
        on = next(p for p in answer(CHECK_BOOK).pieces if p.need.name == "front covering").on[0]
        assert (on.way, on.each) == ("upright or turned", 1)
        # 8 - 5 1/8 = 2 7/8 in, 73.025 mm, of the whole height
        assert on.left is not None
        assert sorted(on.left) == pytest.approx([73.025, 203.2])

    def test_coverings_under_the_tape_take_one_sheet(self):
        # boards apart 20 x 2 x 0.1 + 2 x 6.35 = 16.7 mm; tape on a board (101.6 - 16.7) / 2 = 42.45 mm;
        # covering 104.775 + 25.4 - 42.45 + 12.7 = 100.425 mm; two of them 200.85 mm of 203.2
        lap = way(answer(CHECK_BOOK), "lap")
        assert sizes(lap) == {"front covering": (100.425, 196.85), "back covering": (100.425, 196.85)}
        assert (lap.works, lap.trial.table.of("cover paper").used, lap.saved) == (True, 1, 1)
        assert lap.toml == '[tape]\nlap = "1/2 in"'

    def test_one_piece_does_not_go(self):
        # 2 x 4 1/8 in + 4.4 mm (two endpapers more: 4 x 0.1) + 2 x 1/4 + 2 x 1 in = 277.45 mm; 277.45 - 203.2 = 74.25 mm
        one = way(answer(CHECK_BOOK), "one piece")
        assert sizes(one) == {"covering": (277.45, 196.85)}
        assert not one.works
        assert "does not go on harbour pad, 8 × 8 in (203.2 × 203.2 mm): " in one.trial.lacks[0].what
        assert "(74.25 mm) too wide" in one.trial.lacks[0].what

    def test_the_other_way_round(self):
        """A case whose covering does not go on the pad is told of two coverings under a tape, and of the one sheet."""
        found = answer(ONE_PIECE + PAD)
        two, one = way(found, "two pieces"), way(found, "two pieces", "lap")
        assert sizes(two) == {"front covering": (130.175, 196.85), "back covering": (130.175, 196.85)}
        assert [w.trial.table.of("cover paper").used for w in (two, one)] == [2, 1]
        assert [p.where for p in found.faults] == ["stock.1.size"]
        assert found.faults[0].hint.startswith("two coverings joined under a tape, or ")

    def test_the_book_as_written_comes_first_and_what_fails_last(self):
        found = answer(CHECK_BOOK).ways
        assert found[0].kinds == ("as written",)
        assert [one.works for one in found] == sorted((one.works for one in found), reverse=True)
        assert found[1].kinds == ("lap",)


class TestWays:
    """Every way that is offered is made."""

    @pytest.mark.parametrize("name", SPECS)
    def test_each_is_made_and_verifies(self, name):
        offered = [one for one in answer(SPECS[name]).ways if one.changes]
        for one in offered:
            made = make_pack(one.source)
            assert made.verified.parts > 0
            assert made.plan.pieces == one.trial.plan.pieces
            assert set(one.warnings) <= set(made.plan.warnings)

    @pytest.mark.parametrize("name", SPECS)
    def test_sheets_are_those_of_the_table(self, name):
        for one in answer(SPECS[name]).ways:
            spec = checked_spec(one.source, for_printing=False)
            fresh = table(spec, plan(spec))
            used = {(m.material, c.entry.stock.name): c.used for m in fresh.materials for c in m.cuts}
            told: dict[tuple[str, str], int] = {}
            for (material, _, stock_name), count in one.trial.used.items():
                told[material, stock_name] = told.get((material, stock_name), 0) + count
            if len(fresh.materials) == len({c.entry.stock.name for m in fresh.materials for c in m.cuts}):
                assert told == used
            assert sum(told.values()) == sum(m.used for m in fresh.materials)
            assert one.trial.missing == sum(m.missing for m in fresh.materials)

    @pytest.mark.parametrize("name", SPECS)
    def test_what_works_leaves_nothing_out(self, name):
        """By plain comparison: each piece of a stocked material lies on a stock of it, upright or turned."""
        for one in answer(SPECS[name]).ways:
            spec = checked_spec(one.source, for_printing=False)
            sheets = {s.material: [t.size for t in spec.stock if t.material == s.material and t.size] for s in spec.stock}
            for piece in (p for p in plan(spec).pieces if one.works and p.name != "text sheet"):
                sides = sorted((piece.width, piece.height))
                rooms = [sorted(size) for size in sheets.get(piece.material, [])]
                assert not rooms or any(sides[0] <= r[0] + 1e-6 and sides[1] <= r[1] + 1e-6 for r in rooms)

    @pytest.mark.parametrize("name", SPECS)
    def test_the_lines_to_paste_are_the_changes(self, name):
        """Put into the tables of the spec as the lines say, they give the way's own book."""
        import tomllib

        for one in answer(SPECS[name]).ways:
            if one.kinds[-1] == "leaf" or not one.changes:
                continue  # what is a new [[stock]] entry there is one of several in the spec
            told = tomllib.loads(one.toml.replace("  # number", " #"))
            for where, value in one.changes.items():
                head, _, key = where.partition(".")
                if value is None:
                    assert any(
                        line.startswith("# take out:") and where.rpartition(".")[2] in line for line in one.toml.splitlines()
                    )
                elif head == "stock":
                    assert told["stock"][0][key.partition(".")[2]] == value
                else:
                    assert told[head][key] == value

    def test_two_mild_ways_together(self):
        # 4 1/4 in across takes the covering under the tape, 3 31/32 in; 7 1/4 - 5 3/4 = 1 1/2 in, so turn-ins of 3/4 in
        found = answer(SPECS["lap and turn-in"])
        both = way(found, "lap", "turn-in")
        assert dict(both.changes) == {"tape.lap": "1/2 in", "cover.turn_in": "3/4 in"}
        assert both.works
        assert ("lap",) not in [one.kinds for one in found.ways]  # by itself it is not enough

    def test_across_the_grain_may_serve_only_beside_another_way(self):
        """Motif upright, grain across: 9 x 7 in. Coverings are 5 3/4 + 2 x 5/8 = 7 in high, 4 1/8 + 5/8 in wide."""
        kelp = (
            '[[stock]]\nmaterial = "cover paper"\nname = "kelp print"\nsize = "9 x 7 in"\npattern = "one-way"\ngrain = "long"\n'
        )
        best = answer(ORCHARD + kelp).ways[1]
        assert best.changes == {"stock.1.against_grain": True, "cover.turn_in": "5/8 in"}
        assert best.works
        assert {(120.65, 177.8)} == {
            (round(piece.width, 6), round(piece.height, 6)) for piece in best.trial.plan.pieces if piece.name.endswith("covering")
        }

    def test_the_largest_turn_in_that_fits(self):
        # board 100 + 2 x 3.175 = 106.35 wide, 140 + 6.35 = 146.35 high: (135 - 106.35) / 2 = 14.3, (180 - 146.35) / 2 = 16.8
        turned = way(answer(SPECS["concertina"]), "turn-in")
        assert dict(turned.changes) == {"cover.turn_in": "14 mm"}

    def test_no_turn_in_below_the_sensible_least(self):
        # 9.9 mm would do: 106.35 + 2 x 9.9 = 126.15 mm
        text = SPECS["concertina"].replace("135 x 180", "126.2 x 180")
        assert ("turn-in",) not in [one.kinds for one in answer(text).ways]
        assert ("turn-in",) in [one.kinds for one in answer(text.replace("126.2", "126.4")).ways]  # 106.35 + 20 = 126.35

    def test_unequal_turn_ins_are_kept_where_they_are_small(self):
        text = SPECS["concertina"].replace('"concertina"\n', '"concertina"\nturn_in = { head = "19 mm", tail = "12 mm" }\n')
        turned = way(answer(text), "turn-in")
        assert turned.changes["cover.turn_in"] == {"head": "14 mm", "tail": "12 mm", "fore_edge": "14 mm"}

    def test_against_the_grain_is_cautioned(self):
        # 2 x (105 + 3.175) + 16 x 0.1 = 217.95 by 154.35: turned it goes on 160 x 220, whose grain then runs across it
        found = answer(SPECS["wrapper, grain"])
        assert "turned it would go on, but the grain of the sheet then runs across it" in found.faults[0].what
        across = way(found, "against grain")
        assert dict(across.changes) == {"stock.1.against_grain": True}
        assert across.works
        assert "warps the boards" in across.caution

    def test_a_way_that_helps_but_is_not_enough_is_told(self):
        text = CHECK_BOOK.replace("title", "title", 1) + "count = 3\n[class]\nstudents = 12\n"
        found = answer(text)
        # 12 and 2 spare ones: 28 sheets, and 14 under the tape; 3 are there
        assert found.faults[0].what == "cover paper: 3 sheets of harbour pad on hand, 28 needed: 25 missing"
        lap = way(found, "lap")
        assert (lap.works, lap.trial.missing) == (False, 11)

    def test_a_smaller_leaf_is_the_largest(self):
        # wrapper 2 (w + 3.175) + 1.6 by h + 6.35 on 210 x 148: h = 141 of 148, and 105 x 141 / 148 = 100.03
        leaf = way(answer(SPECS["wrapper"]), "leaf")
        assert dict(leaf.changes) == {"text_block.leaf": "100 x 141 mm"}

    def test_no_way_out_says_so(self):
        text = book("wrapper", "105 x 148 mm", stock("card", "20 x 20 mm"))
        ran = bookplates("fit", "-", given=text.encode())
        assert ran.code == 1
        assert "No way out was found" in ran.out

    def test_several_papers_across_the_grain_together(self):
        # boards 108.18 x 154.35 on 130 x 170, grain along the 130: turned 154.35 > 130; coverings 146.28 x 192.45 on 150 x 195
        board, paper = (
            stock(m, size, 'grain = "short"') for m, size in (("board", "130 x 170 mm"), ("cover paper", "150 x 195 mm"))
        )
        found = answer(book("exposed", "105 x 148 mm", board, paper, text=FOUR_SECTIONS))
        both = way(found, "against grain")
        assert dict(both.changes) == {"stock.1.against_grain": True, "stock.2.against_grain": True}
        assert both.works
        assert both.sentence == "pieces across the grain of harbour pad (board) and harbour pad (cover paper), too"
        assert "bows from head to tail" in both.caution
        assert "warps the boards" in both.caution

    def test_a_smaller_leaf_with_coverings_under_the_tape(self):
        # boards of 5 in: leaves of 4 3/4 in, 3 5/8 in wide; their coverings are 3 5/8 + 1/8 - 1/4 + 1 = 4 1/2 in wide, two of
        # them 9 in and more than the pad; under the tape 4 1/2 in - 1 21/32 in + 1/2 in = 3 11/32 in
        found = answer(CHECK_BOOK + "count = 1\n" + stock("board", "5 x 5 in").replace("harbour pad", "grey board"))
        plain, both = way(found, "leaf"), way(found, "lap", "leaf")
        assert (both.changes["text_block.leaf"], both.changes["tape.lap"]) == ("3 5/8 x 4 3/4 in", "1/2 in")
        assert both.works
        assert plain.trial.plan.text_block.leaf_height < both.trial.plan.text_block.leaf_height

    def test_what_is_turned_in_stays_with_another_cover(self):
        # leaf 210 + 2 x 3.175 + 2 x 19.05 = 254.45 of 260 mm; with the inch that is usual under a tape it would be 267.15
        text = book("case", "148 x 210 mm", stock("cover paper", "340 x 260 mm", 'grain = "short"'), text=FOUR_SECTIONS)
        two = way(answer(text), "two pieces")
        assert two.changes["cover.turn_in"] == "19.05 mm"
        assert {size[1] for size in sizes(two).values()} == {254.45}
        assert two.works

    def test_the_second_of_two_ways_says_what_it_saves(self):
        from bookplates.workshop.fitting.told import sheets_in_words

        both = way(answer(ONE_PIECE + PAD), "two pieces", "lap")
        assert sheets_in_words(both).endswith("cover paper: 1 sheet of harbour pad instead of 2")

    @pytest.mark.parametrize("name", SPECS)
    def test_more_area_than_there_is_never_works(self, name):
        """What is decided before anything is cut is what cutting says."""
        for one in answer(SPECS[name]).ways:
            assert one.trial.works == (one.trial.goes and not one.trial.lacks)


def written_in(text: str, lines: list[str]) -> str:
    """The spec with lines written into it as somebody would who reads them."""
    import tomllib

    import tomli_w

    raw = tomllib.loads(text)
    table = raw
    for line in lines:
        if line.startswith("# take out the table ["):
            raw.pop(line[22:-1])
        elif line.startswith("# take out: "):
            for key in line[12:].split(", "):
                del table[key]
        elif line.startswith("[["):
            name, _, number = line[2:].partition("]]  # number ")
            entries = raw[name.removesuffix("]]")]
            entries += [] if number else [{}]
            table = entries[int(number or 0) - 1]
        elif line.startswith("["):
            table = raw.setdefault(line[1:-1], {})
        else:
            table.update(tomllib.loads(line))
    return tomli_w.dumps(raw)


class TestPasted:
    """The lines that are printed, written into the spec, give what the words beside them say."""

    @pytest.mark.parametrize("name", SPECS)
    def test_they_are_made_with_the_sheets_that_were_told(self, name):
        found = answer(SPECS[name])
        blocks = re.split(r"\n(?=[0-9]+  )", fit_table(found))[1:]
        assert len(blocks) == len(found.ways)
        for one, block in zip(found.ways, blocks, strict=True):
            lines = [line[7:] for line in block.splitlines() if line.startswith(" " * 7)]
            assert lines or not one.trial.goes or not one.changes
            if lines:
                pasted = written_in(SPECS[name], lines)
                again = answer(pasted)
                assert again.trial.works == block.splitlines()[0].endswith(": fits")
                assert again.trial.used == one.trial.used
                assert make_pack(pasted).plan.pieces == one.trial.plan.pieces


class TestLargest:
    """The largest leaf works, and a step more does not: by the sizes of its pieces alone."""

    @pytest.mark.parametrize("name", ["wrapper", "exposed", "hinged", "concertina", "check book", "half"])
    def test_one_step_more_is_too_much(self, name):
        found = answer(SPECS[name], largest=True).largest
        assert found is not None
        assert found.leaf is not None
        assert found.leaf.trial.works
        changes = dict(found.leaf.changes) | {"text_block.leaf": size_key(found.leaf.next_size, "mm")}
        above = found.leaf.trial.after(changes)
        assert above is None or not above.works
        assert above is None or found.leaf.lacking

    def test_each_format_of_the_sheet(self):
        found = answer(CHECK_BOOK, largest=True).largest
        assert found is not None
        # 20 folios: of Letter 1, 2, 4, 8 come from a sheet; a folio's covering is 8 1/2 + 2 1/4 = 10 3/4 in high
        assert [(one.format, one.works, one.sheets) for one in found.formats] == [
            ("folio", False, 20), ("quarto", True, 10), ("octavo", True, 5), ("sextodecimo", True, 3),
        ]  # fmt: skip
        assert found.format is not None
        assert (found.format.format, dict(found.format.changes)) == ("quarto", {})

    def test_counts_are_kept_to(self):
        # 12 books of one covering sheet each (1.0 to a book and 2 spare): 14 sheets are there, not 28
        text = CHECK_BOOK + "count = 14\n[class]\nstudents = 12\n"
        found = answer(text, largest=True).largest
        assert found is not None
        assert found.leaf is not None
        assert found.leaf.trial.table.of("cover paper").used == 14  # two coverings to a sheet: 2 (w + 22.2) <= 203.2 mm
        assert found.leaf.size.width <= 79.4  # 203.2 / 2 - 25.4 + 6.35 - 3.175 = 79.375

    def test_a_format_that_is_warned_of_says_so(self):
        # A4, grain along 297: quarto is A6, 148.5 along that; octavo is A7, 105 high along the 210
        text = book("taped", "A6", stock("cover paper", "A3")).replace('leaf = "A6"', 'sheet = "A4"\nformat = "quarto"')
        found = answer(text, largest=True)
        assert found.largest is not None
        warned = {one.format: [problem.where for problem in one.warnings] for one in found.largest.formats}
        assert warned["octavo"] == ["text_block.grain"]
        assert "fits; but the grain runs across the spine" in fit_table(found)

    def test_a_format_that_is_no_book_says_why(self):
        # A4 in sextodecimo is 52.5 x 74.25 mm: three tapes of 12.7 mm have no place beside each other
        text = book("case", "A6", stock("cover paper", "A3"), text=FOUR_SECTIONS)
        found = answer(text.replace('leaf = "A6"', 'sheet = "A4"\nformat = "quarto"'), largest=True).largest
        assert found is not None
        last = found.formats[-1]
        assert (last.format, last.works) == ("sextodecimo", False)
        assert "no book: sewing.tapes: " in last.lacking[0]

    def test_a_book_without_a_sheet_has_no_formats(self):
        found = answer(SPECS["wrapper"], largest=True).largest
        assert found is not None
        assert found.formats == ()

    @given(st.integers(1, 60), st.integers(0, 60), st.integers(1, 80))
    def test_search_finds_the_end_of_a_run(self, first, more, last):
        run = range(first, first + more)
        top = max(last, first + more)
        begin = run[len(run) // 2] if run else first

        def ask(step):
            return "works" if step in run else "too large" if step >= first + more else "none"

        assert last_that_works(1, top, ask, begin) == (run[-1] if run else None)


SIDES = st.floats(20, 400).map(lambda mm: round(mm, 2))
GRAINS = st.sampled_from(["head to tail", "across", "none"])
SHEETS = st.fixed_dictionaries(
    {
        "grain": st.sampled_from(["long", "short", "none"]),
        "pattern": st.sampled_from(["none", "one-way", "two-way"]),
        "against_grain": st.booleans(),
    }
)


class TestPieces:
    @given(st.tuples(SIDES, SIDES), st.tuples(SIDES, SIDES), GRAINS, SHEETS)
    def test_ways_to_lie_are_those_of_outlines(self, piece, size, grain, keys):
        """Shapely turns and lays the outline; grain and motif are followed as arrows."""
        (w, h), (wide, high), sheet_grain = piece, size, keys["grain"]
        paper = Stock.model_validate(
            {"material": "cover paper", "name": "pad", "size": Size(wide, high), **keys}, context={"units": "mm"}
        )
        found = fitting(Size(w, h), grain, paper)
        sheet = shapely.box(0, 0, wide, high).buffer(1e-6, join_style="mitre")
        along = {"none": None, "long": high >= wide, "short": high < wide}[sheet_grain]  # whether it runs upright
        for turned, may in ((False, found.upright), (True, found.turned)):
            outline = shapely.box(0, 0, w, h)
            if turned:
                outline = shapely.affinity.translate(shapely.affinity.rotate(outline, 90, origin=(0, 0)), h, 0)
            runs_up = (grain == "head to tail") != turned
            with_grain = grain == "none" or along is None or keys["against_grain"] or runs_up == along
            assert may == (sheet.covers(outline) and with_grain and not (turned and keys["pattern"] != "none"))

    def test_as_many_as_the_area_allows(self):
        # 300 x 200: 3 x 2 of 100 x 100
        need, entry = Need("corner", "cloth", Size(100.0, 100.0), "none", 1), paper("cloth", "300 x 200 mm")
        on = on_stock(need, entry, checked_spec(CHECK_BOOK, for_printing=False).cutting)
        assert (on.each, on.left_full) == (6, None)

    def test_a_roll(self):
        # 5 m of tape, 308.8 mm a piece and 5 for its cut: 15 x 313.8 = 4707, 293 mm left, no 308.8
        found = answer(CHECK_BOOK + '[[stock]]\nmaterial = "tape"\nname = "book tape"\nlength = "5 m"\n')
        on = next(piece for piece in found.pieces if piece.need.name == "tape").on[0]
        assert on.each == 15
        assert on.left_full is not None
        assert on.left_full.height == pytest.approx(293)

    def test_motif_and_grain_may_forbid(self):
        text = book("taped", "105 x 148 mm", stock("cover paper", "A3 landscape", 'grain = "long"', 'pattern = "one-way"'))
        assert "upright it would go on, but the grain of the sheet then runs across it" in answer(text).faults[0].what
        text = book("wrapper", "105 x 148 mm", stock("card", "160 x 220 mm", 'pattern = "one-way"'))
        assert "turned it would go on, but its motif then lies on its side" in answer(text).faults[0].what


def paper(material: str, size: str) -> Entry:
    return Entry(Stock.model_validate({"material": material, "name": "sheet", "size": size}, context={"units": "mm"}), 1)


class TestWritten:
    @given(st.floats(3, 900).map(lambda mm: round(mm, 3)), st.sampled_from(["mm", "in"]))
    def test_lengths_and_sizes_read_back(self, mm, units):
        from bookplates.lengths import read_length
        from bookplates.papers.sizes import read_size

        assert read_length(length_key(mm, units), units) == pytest.approx(mm, abs=1e-4)
        assert read_size(size_key(Size(mm, mm + 5), units), units) == pytest.approx((mm, mm + 5), abs=1e-3)
        assert 0 <= mm - down(mm, units) + 1e-5 < (1.0 if units == "mm" else 25.4 / 16) + 1e-4

    def test_what_is_taken_out_stands_in_comments(self):
        lines = list(toml_lines({"cover.style": "case", "cover.gap": None, "stock.2.against_grain": True}, ["tape"]))
        assert lines == [
            "# take out the table [tape]",
            "[cover]", 'style = "case"', "# take out: gap",
            "[[stock]]  # number 2", "against_grain = true",
        ]  # fmt: skip


class TestBadInput:
    def test_no_stock(self):
        with pytest.raises(BadSpec) as caught:
            fit(ORCHARD)
        assert [problem.where for problem in caught.value.problems] == ["stock"]
        assert "[[stock]]" in caught.value.problems[0].hint

    def test_stock_of_no_use_is_warned_of(self):
        text = CHECK_BOOK + stock("card", "A4") + stock("cover paper", "50 x 50 mm")
        found = answer(text)
        assert [problem.where for problem in found.warnings] == ["stock.2.material", "stock.3.size"]
        assert found.faults == ()

    def test_a_roll_too_short(self):
        # 2 x 146.05 + 2 x 2 + 12.7 = 308.8 mm of tape; 308.8 - 300 = 8.8
        found = answer(CHECK_BOOK + '[[stock]]\nmaterial = "tape"\nname = "end of tape"\nlength = "300 mm"\n')
        assert "(8.8 mm) longer than the roll" in found.faults[0].what
        assert found.faults[0].hint.endswith(", or a longer roll")

    def test_a_roll_too_narrow(self):
        text = CHECK_BOOK + '[[stock]]\nmaterial = "tape"\nname = "ribbon"\nlength = "5 m"\nwidth = "3 in"\n'
        (fault,) = answer(text).faults
        assert fault.where == "stock.2.width"
        assert fault.what.endswith("1 in (25.4 mm) too wide for the roll")  # a tape of 4 in
        assert fault.hint.endswith(", or a wider roll")

    def test_a_thread_is_told_by_its_length(self):
        found = answer(CHECK_BOOK + '[[stock]]\nmaterial = "thread"\nname = "end of linen"\nlength = "100 mm"\n')
        assert re.match(r"thread, [^×]* mm\), does not go on end of linen, ", found.faults[0].what)

    def test_what_to_buy_where_only_the_grain_forbids(self):
        (fault,) = answer(SPECS["wrapper, grain"]).faults
        assert fault.hint.endswith(", or sheets whose grain or motif runs the other way, or larger ones")

    def test_panels_are_cut_from_a_sheet_that_is_named(self):
        # 16 panels of 100 mm in one strip; no A3 is so long
        text = book("concertina", "100 x 140 mm", stock("text paper", "A3"))
        (fault,) = answer(text).faults
        assert fault.what.startswith("panel strip, 1600 × 140 mm")
        assert "text_block.sheet instead of leaf" in fault.hint

    def test_a_book_that_cannot_be_made(self):
        ran = bookplates("fit", "-", given=CHECK_BOOK.replace('mitre = "3 mm"', 'mitre = "90 mm"').encode())
        assert (ran.code, ran.out) == (1, "")
        assert "cover.mitre" in ran.err


class TestCommand:
    def test_enough(self, tmp_path):
        spec = tmp_path / "orchard.toml"
        spec.write_text(CHECK_BOOK)
        ran = bookplates("fit", spec)
        assert ran.code == 0
        assert "cover paper: 1 sheet of harbour pad instead of 2" in ran.out
        assert all(": warning: " in line for line in ran.lines)

    def test_not_enough(self, tmp_path):
        spec = tmp_path / "orchard.toml"
        spec.write_text(ONE_PIECE + PAD)
        ran = bookplates("fit", spec)
        line = next(number for number, text in enumerate((ONE_PIECE + PAD).splitlines(), 1) if text.startswith("size"))
        assert ran.code == 1
        assert ran.out.startswith("Orchard notebook: the paper does not suffice")
        assert f"{spec}:{line}: stock.1.size: covering, " in ran.err

    def test_count_too_low(self, tmp_path):
        spec = tmp_path / "orchard.toml"
        spec.write_text(CHECK_BOOK + "count = 1\n")
        ran = bookplates("fit", spec)
        assert ran.code == 1
        assert (
            "stock.1.count: cover paper: 1 sheet of harbour pad on hand, 2 needed: 1 missing; coverings that stop under the tape"
            in ran.err
        )

    def test_json(self):
        ran = bookplates("fit", "-", "--json", given=CHECK_BOOK.encode())
        told = json.loads(ran.out)
        assert (ran.code, told["suffices"], told["largest"], told["problems"]) == (0, True, None, [])
        assert [one["kinds"] for one in told["ways"]][:2] == [["as written"], ["lap"]]
        assert told["ways"][1]["changes"] == {"tape.lap": "1/2 in"}
        assert {"pieces", "ways", "largest"} <= set(told)

    def test_json_of_the_largest(self):
        ran = bookplates("fit", "-", "--json", "--largest", given=CHECK_BOOK.encode())
        told = json.loads(ran.out)["largest"]
        assert [one["format"] for one in told["formats"]] == ["folio", "quarto", "octavo", "sextodecimo"]
        assert told["leaf"]["next_lacks"]

    def test_same_input_same_bytes(self):
        one, other = (fit(CHECK_BOOK, drawings=True).pdf for _ in range(2))
        assert one == other

    @pytest.mark.parametrize(("given_text", "code"), [(CHECK_BOOK, 0), (ONE_PIECE + PAD, 1)])
    def test_drawings(self, tmp_path, given_text, code):
        """They are the answer, and are there also where the answer is no."""
        out = tmp_path / "paper.pdf"
        ran = bookplates("fit", "-", "-o", out, given=given_text.encode())
        assert ran.code == code
        assert f"{out}: " in ran.out
        assert {part.name for part in measure_pdf(out.read_bytes()).parts} == {"bar across", "bar along"}
        assert findings(str(out)) == []

    def test_drawings_to_standard_output(self):
        ran = bookplates("fit", "-", "-o", "-", given=CHECK_BOOK.encode())
        assert ran.raw.startswith(b"%PDF-")
        assert "the paper suffices" in ran.err

    def test_two_things_do_not_share_standard_output(self):
        assert bookplates("fit", "-", "-o", "-", "--json", given=CHECK_BOOK.encode()).code == 2

    def test_the_spec_is_not_written_over(self, tmp_path):
        spec = tmp_path / "orchard.toml"
        spec.write_text(CHECK_BOOK)
        assert bookplates("fit", spec, "-o", spec).code == 1
        assert spec.read_text() == CHECK_BOOK

    def test_no_stock_leaves_no_file(self, tmp_path):
        out = tmp_path / "paper.pdf"
        ran = bookplates("fit", "-", "-o", out, given=ORCHARD.encode())
        assert (ran.code, out.exists()) == (1, False)

    def test_missing_file(self, tmp_path):
        assert bookplates("fit", tmp_path / "none.toml").code == 1


class TestElsewhere:
    """`make` and `plan` warn of what the paper does not give, and go on."""

    SHORT = CHECK_BOOK + "count = 1\n" + stock("board", "5 x 5 in").replace("harbour pad", "grey board")
    TOLD = (
        "stock.1.count: cover paper: 1 sheet of harbour pad on hand, 2 needed: 1 missing; `bookplates fit` says",
        "stock.2.size: front and back board, 4 1/8 × 5 3/4 in (104.78 × 146.05 mm), do not go on grey board, 5 × 5 in",
    )

    @pytest.mark.parametrize(
        "arguments", [["make", "-", "-o", "-"], ["make", "-", "-o", "-", "--plates", "tape guide"], ["plan", "-"]]
    )
    def test_they_warn_at_the_line_of_the_stock(self, arguments):
        ran = bookplates(*arguments, given=self.SHORT.encode())
        lines = self.SHORT.splitlines()
        sizes_at = [number for number, line in enumerate(lines, 1) if line.startswith("size = ")]
        count_at = lines.index("count = 1") + 1
        assert ran.code == 0
        for number, told in zip((count_at, sizes_at[1]), self.TOLD, strict=True):
            assert [line for line in ran.lines if line.startswith(f"-:{number}: warning: {told}")]

    def test_the_plan_as_json_has_them(self):
        ran = bookplates("plan", "-", "--json", given=self.SHORT.encode())
        assert {"stock.1.count", "stock.2.size"} <= {one["where"] for one in json.loads(ran.out)["warnings"]}

    def test_nothing_is_warned_of_where_it_suffices(self):
        assert [one.where for one in make_pack(CHECK_BOOK).warnings if one.where.startswith("stock")] == []

    def test_it_is_worked_out_once(self, monkeypatch):
        from bookplates.workshop import sheets, table

        calls = []

        def counted(*given, **named):
            calls.append(given)
            return sheets.cut_all(*given, **named)

        monkeypatch.setattr(table.table, "__kwdefaults__", {"cut": counted})
        make_pack(self.SHORT)
        assert len(calls) == 1

    def test_without_stock_nothing_of_it_is_loaded(self):
        import subprocess
        import sys

        code = f"import sys; from bookplates.pipeline import make_pack; make_pack({ORCHARD!r}); print(*sys.modules)"
        ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
        assert "bookplates.workshop.table" not in ran.stdout.split()
