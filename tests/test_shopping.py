"""What to buy: counts and sums by hand, prices as people write them, tools by the steps, the times a class takes."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from bookplates.geometry import Size
from bookplates.handout.buying import amount, area, cost, needle, no_sum, shopping_list
from bookplates.handout.room_safety import counted, rules
from bookplates.handout.steps import steps
from bookplates.handout.stock_words import left_on_roll, long, offcut_both, sheet_size
from bookplates.handout.timetable import PACES, Meeting, hours, overnight, timetable
from bookplates.lengths import roll_length
from bookplates.pipeline.bench import Planned, planned
from bookplates.plates.pictures.table import PICTURES
from bookplates.spec.stock import Stock
from bookplates.workshop.cuts import MaterialCuts
from bookplates.workshop.lacking import sheet_in_words
from bookplates.workshop.needs import Need
from bookplates.workshop.prices import read_price
from bookplates.workshop.shopping import Line, shopping, totals
from books import ORCHARD
from commands import bookplates
from every_kind import Kind, every_kind

STOCK = """
[[stock]]
material = "cover paper"
name = "harbour pad"
size = "8 x 8 in"
count = 3
price = 1.2
[[stock]]
material = "board"
name = "grey board"
size = "300 x 400 mm"
grain = "long"
price = "£4"
[[stock]]
material = "tape"
name = "cloth tape"
length = "5 m"
count = 2
"""
TWELVE = '[class]\nstudents = 12\nspare = "10 %"\n'
CLASS = ORCHARD + STOCK + TWELVE
"""The check book for twelve: a tenth of 12 is 1.2, so that the materials of 2 more are made ready, 14 in all."""

METRIC = Kind("taped", "pamphlet", "A4", "upright").spec
LENGTHS = ((708.0, 2, "1"), (1201.0, 2, "2"), (703.0, 1, "3"))
"""Threads by length, mm, with how many and whose."""


def lines_of(spec: str) -> dict[str, Line]:
    """The lines of a shopping list by their names."""
    found = planned(spec)
    return {line.name: line for line in shopping_list(found.plan, found.table)}


@pytest.fixture(scope="module")
def listed() -> dict[str, Line]:
    return lines_of(CLASS)


class TestStock:
    def test_coverings_take_a_sheet_each(self, listed: dict[str, Line]) -> None:
        # 14 books x 2 = 28 of 130.175 x 196.85 mm; 203.2 mm takes neither two of 130.175 beside each other nor two of 196.85
        pad = listed["harbour pad"]
        assert (pad.needed, pad.on_hand, pad.to_buy) == (28, 3, 25)
        assert amount(pad, "in") == "28 sheets; 3 on hand: buy 25."
        assert cost(pad) == "1.20 each: 30 for 25."

    def test_boards_go_four_to_a_sheet(self, listed: dict[str, Line]) -> None:
        # 104.775 x 146.05 mm with the grain along 400: 300 / 104.775 = 2.86, 400 / 146.05 = 2.74: 2 x 2; 28 / 4 = 7
        board = listed["grey board"]
        assert (board.needed, board.on_hand, board.to_buy) == (7, None, 7)
        assert cost(board) == "£4 each: £28 for 7."

    def test_tape_comes_off_one_roll_of_two(self, listed: dict[str, Line]) -> None:
        # 2 x 146.05 + 2 x 2 + 12.7 = 308.8 mm; 14 of them, 5 mm for each cut: 14 x 313.8 = 4,393.2 mm of 5,000
        tape = listed["cloth tape"]
        assert (tape.needed, tape.on_hand, tape.to_buy) == (1, 2, 0)
        # 4,393.2 / 914.4 = 4.804 yd, up to the next tenth
        assert amount(tape, "in") == "4.9 yd (4.4 m) in 14 lengths: 1 roll; 2 on hand: enough."

    def test_thread_takes_off_the_roll_what_is_cut_of_it(self) -> None:
        linen = '[[stock]]\nmaterial = "thread"\nname = "linen"\nlength = "50 m"\n'
        line = lines_of(ORCHARD + linen + TWELVE)["linen"]
        # 1.25 x the 633.6 mm of the pattern is 792, cut as 31 1/2 in: 14 x (800.1 + 5) = 11,271.4 mm, 12.33 yd
        assert line.taken == pytest.approx(11271.4)
        assert amount(line, "in").startswith("12.4 yd (11.28 m) in 14 lengths: ")

    def test_text_paper_is_counted_in_sheets(self, listed: dict[str, Line]) -> None:
        letter = listed["Letter"]  # 14 x 10
        assert (letter.needed, letter.to_buy, letter.number) == (140, 140, None)

    def test_one_book_without_a_class(self) -> None:
        assert lines_of(ORCHARD + STOCK)["harbour pad"].needed == 2


class TestInWords:
    def test_a_sheet_is_bought_about_so_large(self) -> None:
        # 500 / 25.4 = 19.685, 19 11/16 = 19.6875; 700 / 25.4 = 27.559, 27 9/16 = 27.5625
        assert sheet_size(Size(500, 700), "mm") == "500 × 700 mm (about 19 11/16 × 27 9/16 in)"
        assert sheet_size(Size(500, 700), "in") == "about 19 11/16 × 27 9/16 in (500 × 700 mm)"
        assert sheet_size(Size(203.2, 279.4), "in") == "8 × 11 in (203.2 × 279.4 mm)"

    def test_no_more_is_promised_than_is_left(self) -> None:
        # 92.68 / 1.5875 = 58.4: 58/16 = 3 5/8 in; 700 / 1.5875 = 440.9: 27 1/2 in
        assert offcut_both(Size(92.68, 700), "mm") == "92 × 700 mm (3 5/8 × 27 1/2 in)"
        assert left_on_roll(15066.25, "mm") == "15.06 m (16.4 yd)"  # 15,066.25 / 914.4 = 16.48
        assert left_on_roll(35799.25, "in") == "39.1 yd (35.79 m)"  # 39.15

    def test_a_sliver_is_not_nothing(self) -> None:
        assert offcut_both(Size(0.8, 127), "in") == "0.8 mm × 5 in (0.8 × 127 mm)"

    def test_rolls_have_the_unit_first_that_comes_first(self) -> None:
        assert roll_length(4572, "in") == "5 yd (4.57 m)"  # 5 x 914.4
        assert roll_length(20000, "mm") == "20 m (21.9 yd)"  # 21.87
        assert roll_length(406.4, "in") == "16 in (406.4 mm)"  # 16 x 25.4

    def test_a_roll_is_told_the_same_way_everywhere(self) -> None:
        tape = Stock.model_construct(material="tape", name="cloth tape", length=4572.0)
        assert sheet_in_words(tape, "in") == "cloth tape, 5 yd (4.57 m) long"

    @pytest.mark.parametrize(
        ("name", "said"),
        [
            ("420 × 600 mm", "420 × 600 mm (16 17/32 in +0.1 mm × 23 5/8 in -0.1 mm)"),  # 420 - 419.89; 600 - 600.08
            ("420 x 600 mm", "420 × 600 mm (16 17/32 in +0.1 mm × 23 5/8 in -0.1 mm)"),
            ("laid paper", "laid paper, 420 × 600 mm (16 17/32 in +0.1 mm × 23 5/8 in -0.1 mm)"),
        ],
    )
    def test_a_sheet_that_is_called_by_its_size_is_not_told_it_twice(self, name: str, said: str) -> None:
        assert sheet_in_words(Stock.model_construct(name=name, size=Size(420, 600)), "mm") == said

    def test_why_there_is_no_sum(self) -> None:
        assert no_sum([bought("£1.20", 5), bought("ask at the shop", 2)]) == "No sum: grey board has no price for one."
        assert no_sum([bought("£1.20", 5)]) == ""
        assert no_sum([bought("", 5)]) == ""

    def test_what_goes_on_no_stock_says_so(self) -> None:
        stamp = '[[stock]]\nmaterial = "board"\nname = "beer mats"\nsize = "90 x 90 mm"\n'
        line = lines_of(ORCHARD + stamp)["front board"]
        assert amount(line, "in").endswith("It goes on none of the board in the spec: see what fit says.")
        assert "see what fit says" not in amount(lines_of(ORCHARD)["front board"], "in")

    def test_the_spacers_take_tape_too(self) -> None:
        notes = [name for name, line in lines_of(CLASS).items() if line.what == "note" and line.material == "tape"]
        assert notes == ["And 110 mm (about 4 11/32 in) more for each set of spacers: its backing paper covers them."]
        said = " ".join(sentence for step in steps(planned(ORCHARD).plan) for sentence in step.sentences)
        assert "Cut 110 mm of the book tape." in said


class TestWithoutStock:
    def test_pieces_with_their_area(self) -> None:
        # 104.775 + 25.4 = 130.175; 146.05 + 2 x 25.4 = 196.85; 14 x 130.175 x 196.85 = 358,749.28 mm2
        line = lines_of(ORCHARD + TWELVE)["front covering"]
        assert (line.what, line.needed, line.grain) == ("pieces", 14, "head to tail")
        assert line.size is not None
        assert line.size == pytest.approx((130.175, 196.85))
        assert line.area == pytest.approx(358_749.2825)
        assert amount(line, "in").endswith("grain head to tail; 0.36 m² altogether.")

    def test_tape_by_the_length_with_a_little_for_each_cut(self) -> None:
        line = lines_of(ORCHARD + TWELVE)["tape"]
        assert line.length == pytest.approx(14 * 308.8 + 14 * 5)  # 4,393.2 mm
        assert amount(line, "in").startswith("4.9 yd (4.4 m) altogether: 14 × ")  # 4,393.2 / 914.4 = 4.80: up to 4.9

    def test_thread_has_the_learners_quarter(self) -> None:
        found = planned(ORCHARD + TWELVE)
        line = lines_of(ORCHARD + TWELVE)["thread"]
        half_inches = line.size.height / 12.7 if line.size else 0.0
        least = 1.25 * found.plan.sewing.thread_length
        assert half_inches == pytest.approx(round(half_inches))
        assert least <= half_inches * 12.7 < least + 12.7
        assert line.length == pytest.approx(14 * (half_inches * 12.7 + 5))

    def test_each_length_has_a_line_of_its_own(self) -> None:
        lots = [Need("thread", "thread", Size(0.5, long), "none", count, whose) for long, count, whose in LENGTHS]
        there = replace(planned(METRIC).table, materials=(MaterialCuts("thread", tuple(lots), without=tuple(lots)),))
        short, tall = shopping(there)
        # 708 and 703 mm are both cut as 710: 3 x 715 = 2,145; 1,201 as 1,210: 2 x 1,215 = 2,430
        assert (short.needed, short.size, short.length, short.whose) == (3, Size(0.5, 710), pytest.approx(2145), "1, 3")
        assert (tall.needed, tall.size, tall.length, tall.whose) == (2, Size(0.5, 1210), pytest.approx(2430), "2")
        # 2,145 / 914.4 = 2.35; 710 / 25.4 = 27.95, 27 15/16 = 27.94
        assert amount(short, "mm").startswith("2.15 m (2.4 yd) altogether: 3 × 710 mm (about 27 15/16 in)")

    def test_together_is_never_less_than_all_of_them(self) -> None:
        for spec in (ORCHARD + TWELVE, METRIC + TWELVE):
            for line in lines_of(spec).values():
                if line.what == "length":
                    assert line.size is not None
                    assert (line.length or 0.0) > line.needed * line.size.height

    def test_thread_is_told_as_the_steps_cut_it(self) -> None:
        line = lines_of(ORCHARD)["thread"]
        (step,) = (step for step in steps(planned(ORCHARD).plan) if step.title == "Get ready to sew")
        assert f"Cut {amount(line, 'in').partition(',')[0]} of thread, " in step.sentences[0]

    def test_one_is_not_altogether(self) -> None:
        assert not any("altogether" in amount(line, "in") for line in lines_of(ORCHARD).values())

    def test_nobody_is_told_to_buy_a_needle_for_a_book_that_is_not_sewn(self) -> None:
        names = lines_of(Kind("concertina", "none", "A4", "upright").spec)
        assert not any("needle" in name or name == "thread" for name in names)


@pytest.mark.parametrize(
    ("text", "number", "currency"),
    [
        ("£1.20", "1.20", "£"),
        ("1.20 EUR", "1.20", "EUR"),
        ("1.2", "1.2", ""),
        ("12,50 kr", "12.50", "kr"),
        ("€ 3", "3", "€"),
        ("US$4.5", "4.5", "US$"),
        ("Fr. 3.20 per sheet", "3.20", "Fr."),
        ("5p", "5", "p"),
        ("1,200.50", "1200.50", ""),
        ("1.200,50 EUR", "1200.50", "EUR"),
        ("1 200 kr", "1200", "kr"),
        ("0.125 EUR", "0.125", "EUR"),
        ("0", "0", ""),
        ("1.125", "1.125", ""),
        ("£1,200,345", "1200345", "£"),
        ("1.200.345,60 €", "1200345.60", "€"),
        ("1'200.50 CHF", "1200.50", "CHF"),
        ("1\u202f200,50 zł", "1200.50", "zł"),
        ("1200.5", "1200.5", ""),
        ("2.00", "2.00", ""),
    ],
)
def test_a_price_that_is_a_number(text: str, number: str, currency: str) -> None:
    found = read_price(text)
    assert found is not None
    assert (found.amount, found.currency) == (Decimal(number), currency)


@pytest.mark.parametrize(
    "text",
    ["ask at the shop", "", "1,200", "1.200 EUR", "12 sheets for 5 EUR", "5 EUR a pad", "-3", "=1+1", "1e5", "5-6 EUR", "1.2.3",
     "nan", "99999999999999", "£", "a 5 b 6", "£5 €4", "£1.200.50", "1,200,5", "1,200.345,60", "1,20,300", "1 20", "12,3456,789",
     "1234,567", "ca. 5", "for 5", "5 ca.", "5 for", "FOR 5", "abt 5", "5 pcs", "-£3", "£-3", "£ -3", "−3", "-2.00", "٣",
     "５", "1\n2"],
)  # fmt: skip
def test_a_price_that_is_no_number_stays_text(text: str) -> None:
    assert read_price(text) is None


def test_a_price_is_written_as_it_was() -> None:
    shown = [read_price(text) for text in ("£1.20", "12,50 kr", "1.20 EUR", "7")]
    assert [price.times(3).text for price in shown if price] == ["£3.60", "37,50 kr", "3.60 EUR", "21"]  # 3 x 12.50 = 37.50


def test_a_bare_number_keeps_its_two_places() -> None:
    # TOML reads 2.0 and 1.2: there are no noughts left
    for written, said in ((2.0, "2.00"), (1.2, "1.20"), (3, "3"), (0.0, "0.00"), (-1.5, "-1.50"), (1.125, "1.125")):
        assert Stock.model_validate(SHEET | {"price": written}, context={"units": "mm"}).price == said
    assert read_price("-1.50") is None


SHEET = {"material": "board", "name": "grey board", "size": "A3"}


def bought(price: str, count: int, number: int | None = 1) -> Line:
    return Line("sheets", "board", "grey board", number, count, None, count, price=price, each=read_price(price))


class TestTotals:
    def test_by_currency(self) -> None:
        found = totals([bought("£1.20", 5), bought("2.50 £", 2), bought("3 EUR", 4)])
        assert [(price.currency, price.amount) for price in found] == [("£", Decimal("11.00")), ("EUR", 12)]  # 6 + 5; 12

    def test_none_where_a_price_is_no_number(self) -> None:
        assert totals([bought("£1.20", 5), bought("ask at the shop", 2)]) == ()
        assert totals([bought("£1.20", 5), bought("", 2)]) == ()

    def test_what_is_on_hand_costs_nothing(self) -> None:
        assert [price.text for price in totals([bought("£1.20", 5), bought("ask at the shop", 0)])] == ["£6"]

    def test_a_sheet_that_nobody_wrote_as_stock_is_not_asked_for_its_price(self) -> None:
        assert [price.text for price in totals([bought("£1.20", 5), bought("", 140, number=None)])] == ["£6"]

    def test_of_the_class(self) -> None:
        found = planned(CLASS.replace("price = 1.2\n", 'price = "£1.20"\n'))
        assert [price.text for price in totals(shopping(found.table))] == ["£58"]  # 25 x 1.20 + 7 x 4; the tape is there


class TestTools:
    def test_for_twelve(self, listed: dict[str, Line]) -> None:
        counts = {name: (line.needed, line.share) for name, line in listed.items() if line.what == "tool"}
        assert counts["a knife"] == (6, "two")
        assert counts["an awl with a cork"] == (12, "each")
        assert counts["weights"] == (1, "room")
        assert counts["pressing boards"] == (12, "two")  # a pair between two people
        assert {"a sharps tin for used blades", "a first aid kit"} < set(counts)  # the safety sheet asks where they are
        assert counts["clips"] == (24, "each")
        assert not any("drill" in name for name in counts)

    def test_a_needle_for_each_spare_book_too(self, listed: dict[str, Line]) -> None:
        (found,) = [line for name, line in listed.items() if "needle" in name]
        assert found.needed == 14
        assert found.name.endswith(needle(0.5))

    def test_adhesive_without_amounts(self, listed: dict[str, Line]) -> None:
        notes = " ".join(name for name, line in listed.items() if line.what == "note" and not line.material)
        assert "coverings on boards" in notes
        assert "maker's safety sheet" in notes
        assert not any(letter.isdigit() for letter in notes)

    @pytest.mark.parametrize(("thread", "thick"), [(0.3, "0.7 mm"), (0.5, "0.9 mm"), (0.6, "1.1 mm"), (2.0, "2.4 mm")])
    def test_the_needle_goes_with_the_thread(self, thread: float, thick: str) -> None:
        assert needle(thread).startswith(f"about {thick} thick")


class TestOneBook:
    def test_nobody_else_is_there_to_have_their_own(self) -> None:
        tools = [line for line in lines_of(ORCHARD).values() if line.what == "tool"]
        assert {line.share for line in tools} == {""}
        counts = {line.name: amount(line, "in") for line in tools}
        assert (counts["clips"], counts["pressing boards"], counts["a knife"]) == ("2", "2", "1")

    def test_a_class_is_told_who_shares(self, listed: dict[str, Line]) -> None:
        said = {name: amount(line, "in") for name, line in listed.items()}
        assert said["clips"] == "24: everybody has their own"
        assert said["a knife"] == "6: two people share"
        assert said["weights"] == "for the room"


HALF = """\
title = "Tide pool log"
[text_block]
sheet = "A4"
format = "quarto"
grain = "long"
sheets = 6
[cover]
style = "case"
covering = "half"
[sewing]
pattern = "pamphlet"
"""


class TestAdhesive:
    def test_a_half_case_names_spine_corners_and_sides(self) -> None:
        (note,) = [name for name in lines_of(HALF) if name.startswith("Adhesive")]
        assert all(f"{what} on boards" in note for what in ("spine cloth", "cloth corners", "side papers"))

    def test_short_turn_ins_have_strips(self) -> None:
        short = METRIC.replace('style = "taped"', 'style = "taped"\njoin = "5 mm"')
        assert [step.title for step in steps(planned(short).plan) if step.picture == "turn-in strips"]
        assert any("turn-in strips on boards" in name for name in lines_of(short) if name.startswith("Adhesive"))


def test_lengths_and_areas_are_rounded_up() -> None:
    assert long(914.4) == "0.92 m (1 yd)"  # 0.9144 m
    assert long(10_507) == "10.51 m (11.5 yd)"  # 10,507 / 914.4 = 11.49
    assert area(50_001) == "501 cm²"
    assert area(2_000_000) == "2 m²"


# ---- the times


def meetings(spec: str) -> tuple[Meeting, ...]:
    found = planned(spec)
    return timetable(found.plan, found.table)


class TestTimetable:
    def test_the_check_book_takes_two_meetings(self) -> None:
        titles = [meeting.title for meeting in meetings(CLASS)]
        assert titles == ["Beforehand, by the teacher", "Meeting 1", "Before meeting 2, by the teacher", "Meeting 2"]

    def test_what_hangs_on_a_night_under_a_weight_waits(self) -> None:
        when = {task.title: meeting.title for meeting in meetings(CLASS) for task in meeting.tasks}
        assert when["Cut the boards"] == "Beforehand, by the teacher"
        assert when["Nest and press"] == when["Line the boards"] == "Meeting 1"
        assert when["Trim the fore-edge"] == "Before meeting 2, by the teacher"
        assert when["Lay the tape"] == when["Press the book"] == "Meeting 2"

    def test_minutes_by_hand(self) -> None:
        minutes = {task.title: task.minutes for meeting in meetings(CLASS) for task in meeting.tasks}
        assert minutes["Cut the boards"] == 70  # 14 books x 5 minutes
        assert minutes["Cut and fold the text paper"] == 40  # 25 x 1.5 = 37.5, up to the next five
        alone = {task.title: task.minutes for meeting in meetings(ORCHARD) for task in meeting.tasks}
        assert alone["Cut and fold the text paper"] == 25
        assert minutes["Cut by the cutting plans"] == 30  # 28 sheets of cover paper, 2 cuts each, half a minute a cut: 28
        assert "Cut by the cutting plans" not in alone

    def test_every_picture_has_a_time(self) -> None:
        assert set(PICTURES) <= set(PACES)

    def test_the_corners_of_a_half_case_are_work_on_the_cover(self) -> None:
        minutes = {task.title: task.minutes for meeting in meetings(HALF) for task in meeting.tasks}
        assert (minutes["Cover the corners"], minutes["Paste on the side papers"]) == (20, 25)
        assert {PACES[name].of for name in ("cloth spine", "corners", "side papers", "turn-in strips")} == {"cover"}

    def test_meetings_add_up(self) -> None:
        for meeting in meetings(CLASS):
            assert meeting.minutes == sum(task.minutes for task in meeting.tasks)

    def test_nobody_folds_single_leaves(self) -> None:
        single = Kind("side-sewn", "four-hole", "A4", "upright").spec
        notes = {task.title: task.note for meeting in meetings(single) for task in meeting.tasks}
        cut = next(title for title in notes if title.startswith("Cut ") and "leaves" in title)
        assert ("folding" in notes[cut]) == ("fold" in cut)

    @pytest.mark.parametrize("kind", every_kind(), ids="-".join)
    def test_every_step_once_and_in_order(self, kind: Kind) -> None:
        found = planned(kind.spec + TWELVE)
        told = steps(found.plan)
        times = timetable(found.plan, found.table)
        tasks = [task for meeting in times for task in meeting.tasks]
        assert sorted((task.number, task.title) for task in tasks) == [(n, step.title) for n, step in enumerate(told, 1)]
        for meeting in times:
            assert [task.number for task in meeting.tasks] == sorted(task.number for task in meeting.tasks)
            assert all(task.minutes % 5 == 0 and task.minutes > 0 for task in meeting.tasks)
            assert meeting.minutes == sum(task.minutes for task in meeting.tasks)

    @pytest.mark.parametrize("kind", every_kind(), ids="-".join)
    def test_nothing_is_sewn_in_the_meeting_in_which_its_paper_is_pressed(self, kind: Kind) -> None:
        found = planned(kind.spec + TWELVE)
        order = {meeting.title: number for number, meeting in enumerate(timetable(found.plan, found.table))}
        when = {task.number: order[meeting.title] for meeting in timetable(found.plan, found.table) for task in meeting.tasks}
        told = steps(found.plan)
        pressed = [n for n, step in enumerate(told, 1) if overnight(step) and step.picture in ("nest", "stack leaves")]
        sewn = [n for n, step in enumerate(told, 1) if step.title.startswith("Sew: ")]
        assert all(when[press] < when[sew] for press in pressed for sew in sewn)

    def test_hours(self) -> None:
        assert [hours(minutes) for minutes in (0, 45, 60, 135)] == ["0 min", "45 min", "1 h", "2 h 15 min"]


class TestSafety:
    def titles(self, spec: str) -> list[str]:
        return [rule.title for rule in rules(planned(spec).plan)]

    def test_the_check_book(self) -> None:
        found = self.titles(CLASS)
        assert found[0] == "Before anybody begins"
        assert {"Knives", "Guillotine and board shear", "Awls", "Needles", "Adhesive", "Presses and weights"} < set(found)
        assert "Drill" not in found

    def test_only_what_its_steps_use(self) -> None:
        assert "Needles" not in self.titles(Kind("concertina", "none", "A4", "upright").spec)
        assert "Drill" in self.titles(Kind("side-sewn", "four-hole", "A4", "upright").spec)

    def test_what_is_counted(self) -> None:
        found = planned(CLASS)
        assert list(counted(found.plan)) == ["knives", "spare blades", "awls", "needles"]

    def test_local_rules_come_first(self) -> None:
        assert rules(planned(ORCHARD).plan)[0].sentences[0].startswith("Your local rules")


# ---- on the command line


class TestPlan:
    def test_its_list_stands_where_there_is_something_to_buy(self, tmp_path: Path) -> None:
        (tmp_path / "class.toml").write_text(CLASS, encoding="utf-8")
        (tmp_path / "book.toml").write_text(ORCHARD, encoding="utf-8")
        told = bookplates("plan", tmp_path / "class.toml").out
        assert "Shopping list" in told
        assert "28 sheets; 3 on hand: buy 25. 1.20 each: 30 for 25." in told
        lines = told.splitlines()
        tape = next(number for number, line in enumerate(lines) if line.startswith("  tape: cloth tape"))
        assert lines[tape + 1].split(maxsplit=1) == [
            "tape", "And 110 mm (about 4 11/32 in) more for each set of spacers: its backing paper covers them."
        ]  # fmt: skip
        assert "Shopping list" not in bookplates("plan", tmp_path / "book.toml").out

    def test_why_there_is_no_sum_stands_there_too(self, tmp_path: Path) -> None:
        (tmp_path / "class.toml").write_text(CLASS.replace('price = "£4"', 'price = "ask"'), encoding="utf-8")
        told = bookplates("plan", tmp_path / "class.toml").out
        assert "  No sum: grey board has no price for one." in told
        assert "Stock to buy, together" not in told

    @pytest.mark.parametrize("spec", [CLASS, ORCHARD])
    def test_the_new_keys_are_always_there_and_last(self, spec: str, tmp_path: Path) -> None:
        (tmp_path / "book.toml").write_text(spec, encoding="utf-8")
        found = json.loads(bookplates("plan", tmp_path / "book.toml", "--json").out)
        assert list(found)[-4:] == ["warnings", "stock", "cutting", "shopping"]
        assert {line["what"] for line in found["shopping"]} >= {"sheets", "tool", "note"}

    def test_stock_as_it_was_read(self) -> None:
        pad, _, tape = planned(CLASS).as_json()["stock"]
        assert (pad["size"], pad["count"], pad["grain"], pad["pattern"]) == ([203.2, 203.2], 3, "none", "none")
        assert (tape["size"], tape["length"]) == (None, 5000.0)

    def test_lines_as_plain_values(self) -> None:
        lines = {line["name"]: line for line in planned(CLASS).as_json()["shopping"]}
        pad = lines["harbour pad"]
        assert (pad["needed"], pad["on_hand"], pad["to_buy"], pad["each"], pad["total"]) == (28, 3, 25, "1.20", "30.00")
        assert (lines["grey board"]["currency"], lines["grey board"]["total"]) == ("£", "28")
        assert lines["cloth tape"]["total"] is None

    def test_what_is_not_asked_for_is_not_worked_out(self) -> None:
        found = planned(ORCHARD)
        assert found.shopping == ()
        assert isinstance(found, Planned)
        assert "table" not in vars(found)
