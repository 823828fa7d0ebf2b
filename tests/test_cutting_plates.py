"""How sheets are cut: the cuts of `plan --json` made one after the other by an outside library, and the plates read back."""

from __future__ import annotations

import io
import re
from collections import Counter
from typing import Any

import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box
from shapely.ops import split, unary_union

from bookplates.errors import WrongUse
from bookplates.geometry import Size
from bookplates.handout.cutting_words import after, base_name, cautions, for_whom, intro, left_over, letters_of
from bookplates.handout.cutting_words import settings as told
from bookplates.handout.roll_words import roll_words
from bookplates.lengths import counted
from bookplates.pages.place import make_pages
from bookplates.pages.sheets import Pack
from bookplates.pdf import write_pdf
from bookplates.pipeline import Made, Wanted, make_pack, verify
from bookplates.pipeline.bench import planned
from bookplates.pipeline.book import checked_spec
from bookplates.plates.bench import BENCH, draw_bench
from bookplates.plates.drawing import Label, Stroke
from bookplates.readback import measure_pdf
from bookplates.workshop.cuts import Kind
from bookplates.workshop.cutting.tree import Want
from bookplates.workshop.needs import Need
from books import ORCHARD
from page_check import findings
from test_shopping import CLASS, STOCK

CASE = """\
title = "Tide pool journal"
[text_block]
leaf = "105 x 148 mm"
folios = 24
sections = 3
[cover]
style = "case"
[sewing]
pattern = "tapes"
[[stock]]
material = "cover paper"
name = "shell sheet"
size = "500 x 700 mm"
grain = "long"
pattern = "one-way"
count = 3
price = "ask at the shop"
[[stock]]
material = "board"
name = "grey board"
size = "1000 x 700 mm"
grain = "long"
[[stock]]
material = "board"
name = "board offcuts"
size = "250 x 340 mm"
grain = "short"
count = 4
[[stock]]
material = "text paper"
name = "laid paper"
size = "430 x 610 mm"
grain = "long"
[[stock]]
material = "tape"
name = "linen tape"
length = "3 m"
[cutting]
blade = "2 mm"
[class]
students = ["Ada", "Bo", "Cem", "Dee", "Eli", "Fay", "Gil", "Hana", "Ivo", "Jun", "Kit", "Lou"]
spare = "15 %"
"""
SMALL = """\
title = "Beehive log"
[text_block]
leaf = "60 x 80 mm"
folios = 6
[cover]
style = "taped"
turn_in = "8 mm"
lining_margin = "4 mm"
[tape]
width = "30 mm"
[sewing]
count = 3
pattern = "pamphlet"
[[stock]]
material = "board"
name = "grey board"
size = "700 x 1000 mm"
grain = "short"
[[stock]]
material = "cover paper"
name = "hive print in a long name that its maker gave it for reasons of her own, as makers do"
size = "500 x 700 mm"
pattern = "two-way"
[[stock]]
material = "lining paper"
name = "plain"
size = "A4"
grain = "short"
[class]
students = 28
"""
"""62 boards, none of them wider than a thumb: 28 books and 3 spare ones."""
SPECS = {"check book": CLASS, "case": CASE, "small": SMALL}


# ---- an independent replay


def cut_up(way: dict[str, Any], sheet: list[float], blade: float) -> dict[int, Polygon]:
    """Make the cuts in their printed order on a sheet of paper: the parts by number, those that are cut up taken away."""
    hand = {0: box(0, 0, *sheet)}
    for number, cut in enumerate(way["cuts"], 1):
        assert cut["number"] == number
        left, low, right, high = hand.pop(cut["part"]).bounds  # a part that is used up, or not there yet, raises
        assert not {cut["first"], cut["rest"]} & set(hand)
        if cut["upright"]:
            knife = LineString([(left + cut["stop"], low - 1), (left + cut["stop"], high + 1)])
            gone = box(left + cut["stop"], low, left + cut["stop"] + blade, high)
        else:
            knife = LineString([(left - 1, low + cut["stop"]), (right + 1, low + cut["stop"])])
            gone = box(left, low + cut["stop"], right, low + cut["stop"] + blade)
        parted = list(split(box(left, low, right, high), knife).geoms)
        assert len(parted) == 2, "a cut from edge to edge makes two parts of one"
        first, beyond = sorted(parted, key=lambda part: part.bounds[0 if cut["upright"] else 1])
        hand[cut["first"]] = first
        rest = beyond.difference(gone) if blade else beyond
        if cut["rest"] is None:
            assert rest.area < 1e-3 * max(sheet)
        else:
            hand[cut["rest"]] = rest
    return hand


def replayed(found: dict[str, Any]) -> Counter[tuple[str, str, float, float]]:
    """How many pieces come out in all: by material, name, and size as they are on the book."""
    out: Counter[tuple[str, str, float, float]] = Counter()
    for material in found["cutting"]:
        for cuts in material["sheets"]:
            assert cuts["used"] == sum(way["times"] for way in cuts["ways"])
            for way in cuts["ways"]:
                hand = cut_up(way, cuts["size"], cuts["blade"])
                named = {end["part"]: end for end in (*way["pieces"], *way["offcuts"])}
                assert set(named) == set(hand), "what is left in hand is what the plan names, each once"
                for number, end in named.items():
                    left, low, right, high = hand[number].bounds
                    assert (left, low, right - left, high - low) == pytest.approx(
                        (end["x"], end["y"], end["width"], end["height"]), abs=1e-4
                    )
                whole = unary_union(list(hand.values())).area
                assert whole == pytest.approx(sum(part.area for part in hand.values()), rel=1e-6), "no two overlap"
                for piece in way["pieces"]:
                    size = (piece["width"], piece["height"])[:: -1 if piece["turned"] else 1]
                    out[material["material"], piece["name"], round(size[0], 3), round(size[1], 3)] += way["times"]
    return out


@pytest.mark.parametrize("name", SPECS)
def test_every_piece_comes_out_at_its_size(name: str) -> None:
    found = planned(SPECS[name])
    out = replayed(found.as_json())
    for material in found.table.materials:
        wanted: Counter[tuple[float, float]] = Counter()
        for need in material.needs:
            wanted[round(need.size.width, 3), round(need.size.height, 3)] += need.count
        got: Counter[tuple[float, float]] = Counter()
        for (of, _, wide, high), count in out.items():
            if of == material.material:
                got[wide, high] += count
        for need in material.without:
            got[round(need.size.width, 3), round(need.size.height, 3)] += need.count
        if material.sheets:
            assert got == wanted


def test_the_check_book_by_hand() -> None:
    out = replayed(planned(CLASS).as_json())
    assert out == {
        ("text paper", "folio", 215.9, 139.7): 280,  # 14 books x 10 Letter sheets x 2
        ("board", "board", 104.775, 146.05): 28,  # 14 x 2; 107.95 + 3.175 - 6.35 by 139.7 + 2 x 3.175
        ("cover paper", "covering", 130.175, 196.85): 28,
    }


@pytest.mark.parametrize("name", SPECS)
def test_the_grain_runs_as_it_has_to(name: str) -> None:
    """Along the spine for every piece here: of a sheet its long side where that is its grain's."""
    for material in planned(SPECS[name]).as_json()["cutting"]:
        for cuts in material["sheets"]:
            wide, high = cuts["size"]
            stands = (high >= wide) == (cuts["grain"] == "long")
            for piece in (piece for way in cuts["ways"] for piece in way["pieces"]):
                if (cuts["grain"] != "none" and name != "check book") or material["material"] == "board":
                    assert piece["turned"] != stands
                if cuts["pattern"] != "none":
                    assert not piece["turned"]


def test_rolls_hold_what_comes_off_them() -> None:
    (tape,) = (material for material in planned(CASE).as_json()["cutting"] if material["material"] == "tape")
    (rolls,) = tape["rolls"]
    for way in rolls["ways"]:
        # 5 mm more for each cut
        assert sum(piece["count"] * (piece["length"] + 5) for piece in way["pieces"]) + way["left"] == pytest.approx(3000.0)
    made = sum(way["times"] * piece["count"] for way in rolls["ways"] for piece in way["pieces"])
    assert made == 42  # 3 sewing tapes x (12 + 2) books: 15 % of 12 is 1.8


@settings(max_examples=30, deadline=None)
@given(
    wide=st.integers(130, 900),
    high=st.integers(200, 900),
    blade=st.sampled_from(["0 mm", "1.5 mm", "1/16 in"]),
    grain=st.sampled_from(["long", "short", "none"]),
    students=st.integers(1, 20),
)
def test_any_board_is_cut_as_it_is_said(wide: int, high: int, blade: str, grain: str, students: int) -> None:
    stock = f'[[stock]]\nmaterial = "board"\nname = "board"\nsize = "{wide} x {high} mm"\ngrain = "{grain}"\n'
    spec = f'{ORCHARD}{stock}[cutting]\nblade = "{blade}"\n[class]\nstudents = {students}\nspare = "0 %"\n'
    found = planned(spec).as_json()
    boards = sum(count for (material, *_), count in replayed(found).items() if material == "board")
    (board,) = (material for material in found["cutting"] if material["material"] == "board")
    assert boards + sum(need["count"] for need in board["without"]) == 2 * students


# ---- the plates


def text_of(data: bytes) -> list[str]:
    """The words of each page, as an outside reader finds them, its lines run together."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return [" ".join(page.extract_text().split()) for page in pdf.pages]


def benched(spec: str, paper: str = "A4") -> bytes:
    """All plates of the workshop as a PDF."""
    checked = checked_spec(f'{spec}\n[print]\npaper = "{paper}"\n', for_printing=True)
    found = planned(spec)
    drawings = draw_bench(found.plan, found.table, checked.setup)
    return write_pdf(Pack("", "", make_pages(drawings, checked.setup, found.plan.title, ""), b""))


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "A3"])
@pytest.mark.parametrize("name", SPECS)
def test_nothing_to_stumble_on(name: str, paper: str) -> None:
    assert findings(io.BytesIO(benched(SPECS[name], paper))) == []


@pytest.fixture(scope="module")
def made() -> Made:
    return make_pack(CLASS)


class TestInThePack:
    def test_they_come_last(self, made: Made) -> None:
        pages = text_of(made.pdf)
        before = len(text_of(make_pack(ORCHARD).pdf))
        assert [page[:13] for page in pages[before:]] == ["Shopping list", *["Cutting plan,"] * 4]  # text, board, cover, tape

    def test_once_however_many_copies_there_are(self, made: Made) -> None:
        copied = text_of(make_pack(CLASS + "[print]\ncopies = 3\n").pdf)
        assert sum(page.startswith(("Shopping list", "Cutting plan")) for page in copied) == 5

    def test_a_pack_with_stock_is_still_the_pack(self, made: Made) -> None:
        assert verify(made.pdf).verified.parts > 0
        assert verify(made.pdf, CLASS).excerpt == ""

    def test_a_book_without_stock_has_none(self) -> None:
        assert not any(page.startswith(("Shopping list", "Cutting plan")) for page in text_of(make_pack(ORCHARD).pdf))

    def test_one_alone_and_verified_as_that(self) -> None:
        made = make_pack(CLASS, Wanted(plates="cutting plan"))
        assert made.pages == 4
        assert verify(made.pdf).excerpt == "only cutting plan"

    def test_a_book_without_stock_is_told_so(self) -> None:
        with pytest.raises(WrongUse, match=r"this book has no cutting plan; that comes where \[\[stock\]\]"):
            make_pack(ORCHARD, Wanted(plates="cutting plan"))

    def test_stock_for_nothing_the_book_is_made_of(self) -> None:
        card = '[[stock]]\nmaterial = "card"\nname = "card"\nsize = "A3"\n'
        leaf = ORCHARD.replace('sheet = "Letter"\nformat = "quarto"\nsheets = 10\n', 'leaf = "4.25 x 5.5 in"\nfolios = 20\n')
        (page,) = text_of(make_pack(leaf + card, Wanted(plates="cutting plan")).pdf)
        assert "Nothing is cut from the stock that is written in the spec" in page

    def test_nothing_on_them_passes_for_true_scale(self) -> None:
        parts = measure_pdf(make_pack(CLASS, Wanted(plates="cutting plan, shopping list")).pdf).parts
        assert {part.name for part in parts} == {"bar across", "bar along"}


@pytest.fixture(scope="module")
def pages() -> list[str]:
    """The check book's cutting plans: text paper, board, cover paper, tape."""
    return text_of(make_pack(CLASS, Wanted(plates="cutting plan")).pdf)


class TestCuttingPlan:
    def test_says_that_it_is_a_diagram(self, pages: list[str]) -> None:
        assert all("This is a diagram, not to scale: work by the measurements." in page for page in pages[:3])

    def test_how_many_sheets_alike(self, pages: list[str]) -> None:
        assert "Cut 140 sheets of 8 1/2 × 11 in (215.9 × 279.4 mm) as drawn, all alike." in pages[0]
        assert "Cut 7 sheets of about 11 13/16 × 15 3/4 in (300 × 400 mm) as drawn, all alike." in pages[1]
        assert "Cut 28 sheets of 8 × 8 in (203.2 × 203.2 mm) as drawn, all alike." in pages[2]

    def test_stops_in_both_units(self, pages: list[str]) -> None:
        assert "Stop at 5 1/2 in (139.7 mm), cut across" in pages[0]  # Letter halved
        assert "Stop at 5 3/4 in (146.05 mm), cut across" in pages[1]
        assert "Stop at 4 1/8 in (104.78 mm), cut upright" in pages[1]
        assert "Stop at 5 1/8 in (130.18 mm), cut upright" in pages[2]

    def test_how_text_sheets_become_folios(self, pages: list[str]) -> None:
        assert "Fold each folio in half" in pages[0]
        (cuts,) = planned(CLASS).table.of("text paper").sheets
        (said,) = after(cuts, "in")
        assert said.startswith("Fold each folio in half across its 8 1/2 in (215.9 mm) side: that makes leaves 4 1/4 × 5 1/2 in")

    def test_offcuts_with_what_to_keep(self, pages: list[str]) -> None:
        # 203.2 - 130.175 = 73.025 wide, worth keeping; 203.2 - 196.85 = 6.35 high, not: down to a whole mm and 1/16 in
        assert "keep 2 7/8 × 8 in (73 × 203 mm) 1 a sheet: 28" in pages[2]  # 73.025 mm = 2.875 in
        assert "scrap 5 1/8 × 1/4 in (130 × 6 mm) 1 a sheet: 28" in pages[2]

    def test_the_diagram_names_offcuts_in_the_unit_that_comes_first(self) -> None:
        found, setup = planned(CLASS), checked_spec(CLASS, for_printing=True).setup
        drawn = draw_bench(found.plan, found.table, setup, ["cutting plan"])
        (plan,) = (drawing for drawing in drawn if "harbour pad" in drawing.title)
        assert "2 7/8 × 8 in" in {item.text for item in plan.items if isinstance(item, Label)}

    def test_each_cut_says_what_comes_off(self, pages: list[str]) -> None:
        assert "1 From the sheet: 1 folio (A); what is left is 1 folio (A)." in pages[0]
        assert "1 From the sheet: a strip, part 1; what is left is an offcut, 2 7/8 × 8 in, to keep." in pages[2]
        assert "2 From part 1: 1 covering (A); what is left is an offcut, 5 1/8 × 1/4 in." in pages[2]

    def test_strips_are_numbered_one_after_the_other(self, pages: list[str]) -> None:
        # 400 / 146.05 = 2.74: two strips, 107.9 left, 4 1/4 in down to 1/16; 300 / 104.775 = 2.86: two boards of each
        assert "1-2 From the sheet: 2 strips, one after the other: parts 1 and 2;" in pages[1]
        assert "3-4 From part 2: 2 boards (A), one after the other;" in pages[1]
        assert "5-6 From part 1: 2 boards (A), one after the other;" in pages[1]

    def test_tape_off_its_roll(self, pages: list[str]) -> None:
        # 308.8 and 5 for its cut: 14 x 313.8 = 4,393.2; 5,000 - 4,393.2 = 606.8; 606.8 / 1.5875 = 382.2: 23 14/16 in
        assert "From the roll cut 14 × tape, 12 5/32 in (308.8 mm) long. 23 7/8 in (606 mm) is left." in pages[3]

    def test_boards_are_cut_by_an_adult(self, pages: list[str]) -> None:
        assert cautions("board").startswith("Boards are cut by an adult, or on a board shear by someone trained on it.")
        assert "Take care. Boards are cut by an adult" in pages[1]
        assert all("Local rules and trained people come first." in page for page in pages[:3])

    def test_every_cut_is_numbered_in_the_list(self) -> None:
        found = planned(SMALL)
        for material in found.table.materials:
            for cuts in material.sheets:
                for number, way in enumerate(cuts.ways):
                    rows = [row for one in told(cuts, way, "mm", 30.0) for row, _ in one.rows]
                    numbers = [n for row in rows for n in _numbers(row)]
                    listed = next(m for m in found.as_json()["cutting"] if m["material"] == material.material)
                    (sheet,) = listed["sheets"]
                    assert numbers == [cut["number"] for cut in sheet["ways"][number]["cuts"]]

    def test_the_diagram_shows_grain_motif_and_blade(self) -> None:
        case = " ".join(text_of(make_pack(CASE, Wanted(plates="cutting plan")).pdf))
        assert "Its grain runs up and down. The motif stands upright." in case
        assert "Each cut takes 2 mm" in case
        assert " grain " in case
        assert " motif " in case

    def test_sixty_pieces_each_have_a_letter(self) -> None:
        pages = text_of(make_pack(SMALL, Wanted(plates="cutting plan")).pdf)
        (board,) = (page for page in pages if page.startswith("Cutting plan, board"))
        assert re.search(r"A board, [^A]* 62 ", board)
        found, setup = planned(SMALL), checked_spec(SMALL, for_printing=True).setup
        drawn = draw_bench(found.plan, found.table, setup, ["cutting plan"])
        (plan,) = (drawing for drawing in drawn if drawing.title.startswith("cutting plan, board"))
        letters = [item for item in plan.items if isinstance(item, Label) and item.anchor == "middle" and item.text[0] == "A"]
        assert len(letters) == 62


def _numbers(row: str) -> range:
    first, _, last = row.partition("-")
    return range(int(first), int(last or first) + 1)


class TestThreads:
    LINEN = '[[stock]]\nmaterial = "thread"\nname = "linen"\nlength = "{} mm"\n[class]\nstudents = 2\nspare = "0 %"\n'

    def told(self, roll: float) -> tuple[str, ...]:
        (rolls,) = planned(ORCHARD + self.LINEN.format(roll)).table.of("thread").rolls
        return roll_words(rolls, "in")

    def test_are_cut_as_long_as_the_steps_say(self) -> None:
        steps = " ".join(text_of(make_pack(ORCHARD, Wanted(plates="steps")).pdf))
        (said,) = re.findall(r"Cut (\S+(?: 1/2)? in) \(", steps[steps.index("Get ready to sew") :])[:1]
        assert f"2 × thread, {said} (" in self.told(9000.0)[1]

    def test_as_long_as_they_must_be_where_the_roll_has_no_more(self) -> None:
        needed = planned(ORCHARD).plan.sewing.thread_to_cut
        # two threads, with a cut between them; the other cut is the end of the roll
        assert self.told(2 * needed + 5)[1].endswith("long. 0 mm is left.")


@pytest.mark.parametrize(("whose", "said"), [(("1, 3", "5-6"), "for students 1, 3, 5-6"), (("4",), "for student 4"), (("",), "")])
def test_whose_pieces_are(whose: tuple[str, ...], said: str) -> None:
    size = Size(78.6, 192.95)
    kind = Kind(tuple(Need("spine cloth", "cloth", size, "head to tail", 1, one) for one in whose), Want(size, len(whose)))
    assert (base_name(kind), for_whom(kind)) == ("spine cloth", said)


def test_what_two_names_end_in_is_said_once() -> None:
    size = Size(65.5, 13.88)
    needs = [Need(name, "cover paper", size, "across", 2) for name in ("head turn-in strip", "tail turn-in strip")]
    assert base_name(Kind(tuple(needs), Want(size, 4))) == "head or tail turn-in strip"
    assert base_name(Kind((needs[0], Need("tape", "tape", size, "none", 1)), Want(size, 3))) == "head turn-in strip or tape"


def test_leaves_are_the_plural_of_leaf() -> None:
    assert [counted(number, "leaf") for number in (1, 2)] == ["1 leaf", "2 leaves"]


def test_letters_never_repeat() -> None:
    assert len({letters_of(number) for number in range(200)}) == 200


def test_a_sheet_that_is_a_piece_is_not_cut() -> None:
    spec = ORCHARD.replace('format = "quarto"', 'format = "folio"') + STOCK
    found = planned(spec)
    (cuts,) = found.table.of("text paper").sheets
    assert intro(cuts, cuts.ways[0], "in") == (
        "Take 10 sheets of 8 1/2 × 11 in (215.9 × 279.4 mm). They are not cut: each is one folio as it is.",
    )
    assert left_over(cuts.ways[0], 30.0, "in") == ()


def test_several_rolls_are_told_one_way_after_the_other() -> None:
    tape = '[[stock]]\nmaterial = "tape"\nname = "cloth tape"\nlength = "1 m"\n'
    (rolls,) = planned(ORCHARD + tape + '[class]\nstudents = 7\nspare = "0 %"\n').table.of("tape").rolls
    # 308.8 and 5 for its cut: 1,005 / 313.8 = 3.2, three to a roll, 7 = 3 + 3 + 1; 1,000 - 941.4 = 58.6, 1,000 - 313.8 = 686.2
    # 58.6 / 1.5875 = 36.9: 2 4/16 in; 686.2 / 1.5875 = 432.3: 27 in
    first, *others = roll_words(rolls, "mm")
    assert first == "3 rolls of cloth tape, each 1 m (1.1 yd) long."
    assert sorted(others) == [
        "From 1 roll cut 1 × tape, 308.8 mm (12 5/32 in) long. 686 mm (27 in) is left.",
        "From each of 2 rolls cut 3 × tape, 308.8 mm (12 5/32 in) long. 58 mm (2 1/4 in) of each is left.",
    ]


class TestBench:
    def test_only_what_is_asked_for(self) -> None:
        found, setup = planned(CLASS), checked_spec(CLASS, for_printing=True).setup
        drawn = draw_bench(found.plan, found.table, setup, ["timetable", "safety sheet"])
        assert [drawing.plate for drawing in drawn] == ["timetable", "safety sheet"]
        assert {drawing.plate for drawing in draw_bench(found.plan, found.table, setup)} == set(BENCH)

    def test_all_are_whole_pages_without_parts(self) -> None:
        found, setup = planned(SMALL), checked_spec(SMALL, for_printing=True).setup
        for drawing in draw_bench(found.plan, found.table, setup):
            assert drawing.whole_page
            assert not list(drawing.parts())

    def test_a_box_to_tick_for_every_task(self) -> None:
        found, setup = planned(CLASS), checked_spec(CLASS, for_printing=True).setup
        (drawing,) = draw_bench(found.plan, found.table, setup, ["timetable"])
        boxes = [item for item in drawing.items if isinstance(item, Stroke) and item.closed]
        assert len(boxes) == 20  # the steps of the check book, and cutting by the plans
        assert any(isinstance(item, Label) and item.text == "Cut the boards" for item in drawing.items)

    def test_the_same_bytes_again(self) -> None:
        assert benched(CASE) == benched(CASE)
