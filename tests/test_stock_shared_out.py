"""What books need, and what is cut from which stock: numbers by hand, the sum beside them."""

from __future__ import annotations

import pytest

from bookplates.book.plan import plan
from bookplates.book.record import Plan
from bookplates.geometry import Size
from bookplates.pipeline.book import checked_spec
from bookplates.spec.stock import Cutting, Stock
from bookplates.spec.write import changed
from bookplates.workshop.cuts import Entry
from bookplates.workshop.lacking import lacks
from bookplates.workshop.lying import fitting
from bookplates.workshop.needs import Books, Need, needs, spare_books
from bookplates.workshop.sheets import cut_all
from bookplates.workshop.table import Table, table
from books import ORCHARD


def table_of(text: str) -> Table:
    spec = checked_spec(text, for_printing=False)
    return table(spec, plan(spec))


def stock(material: str = "cover paper", **keys: object) -> Stock:
    return Stock.model_validate({"material": material, "name": "harbour pad", **keys}, context={"units": "mm"})


def entries(*stocks: Stock) -> list[Entry]:
    return [Entry(one, number) for number, one in enumerate(stocks, 1)]


def piece(width: float, height: float, count: int = 1, grain: str = "head to tail", name: str = "covering") -> Need:
    return Need(name, "cover paper", Size(width, height), grain, count)


class TestNeeds:
    def test_one_book_needs_its_pieces_its_folios_and_its_thread(self) -> None:
        found = {need.name: need for need in table_of(ORCHARD).needs}
        assert list(found) == [
            *("folio", "front board", "back board", "front covering", "back covering", "front lining", "back lining"),
            *("tape", "thread"),
        ]
        assert (found["folio"].size, found["folio"].count) == (pytest.approx((215.9, 139.7)), 20)  # 2 x 4 1/4 by 5 1/2 in
        assert found["front covering"].size == pytest.approx((130.175, 196.85))  # 4 1/8 + 1 by 5 3/4 + 2 in

    def test_twelve_books_and_two_spare_need_fourteen_of_each(self) -> None:
        whole = table_of(f"{ORCHARD}[class]\nstudents = 12\nspare = '10 %'\n")  # 12 x 10 % = 1.2, so 2 more
        assert (whole.books, whole.spare) == (12, 2)
        assert {need.name: need.count for need in whole.needs} == {
            "folio": 280,
            "front board": 14,
            "back board": 14,
            "front covering": 14,
            "back covering": 14,  # 14 x 20 folios
            "front lining": 14,
            "back lining": 14,
            "tape": 14,
            "thread": 14,
        }

    @pytest.mark.parametrize(("books", "share", "more"), [(12, 0.1, 2), (10, 0.1, 1), (30, 0.1, 3), (12, 0.0, 0), (1, 1.0, 1)])
    def test_spare_books_are_rounded_up(self, books: int, share: float, more: int) -> None:
        assert spare_books(books, share) == more

    def test_pieces_that_differ_say_whose_they_are(self) -> None:
        small, large = (plan(checked_spec(ORCHARD.replace("Letter", name), for_printing=False)) for name in ("Letter", "Tabloid"))
        found = needs([Books(small, 2, (1, 3)), Books(large, 1, (2,)), Books(small, 1, (4,))])
        boards = [(need.count, need.whose) for need in found if need.name == "front board"]
        assert boards == [(3, "1, 3-4"), (1, "2")]

    def test_single_leaves_are_cut_as_leaves(self) -> None:
        side_sewn = (
            'title = "Tide marks"\n[text_block]\nsheet = "A4"\nformat = "folio"\nsheets = 10\n[cover]\nstyle = "side-sewn"\n'
        )
        found = next(need for need in table_of(side_sewn).needs if need.material == "text paper")
        assert (found.name, found.count, found.size) == ("leaf", 20, pytest.approx((148.5, 210)))  # A4 halved: two leaves a sheet


class TestLying:
    """A piece of 100 x 200 mm, its grain along the 200, on a sheet of 210 x 297 mm."""

    @pytest.mark.parametrize(
        ("keys", "upright", "turned"),
        [
            ({"grain": "long"}, True, False),
            ({"grain": "short"}, False, True),
            ({"grain": "none"}, True, True),
            ({"grain": "short", "against_grain": True}, True, True),
            ({"grain": "none", "pattern": "one-way"}, True, False),
            ({"grain": "none", "pattern": "two-way"}, True, False),
            ({"grain": "short", "pattern": "one-way"}, False, False),  # the grain wants it turned, the motif upright
        ],
    )
    def test_grain_and_motif_decide(self, keys: dict[str, object], upright: bool, turned: bool) -> None:
        ways = fitting(Size(100, 200), "head to tail", stock(size="210 x 297 mm", **keys))
        assert (ways.upright, ways.turned) == (upright, turned)

    def test_a_sheet_written_the_other_way_round_lies_the_other_way_round(self) -> None:
        ways = fitting(Size(100, 200), "head to tail", stock(size="297 x 210 mm", grain="long"))
        assert (ways.upright, ways.turned) == (False, True)

    def test_what_is_too_large_lies_no_way(self) -> None:
        assert not fitting(Size(211, 298), "none", stock(size="210 x 297 mm"))


class TestSharing:
    def test_what_is_on_hand_is_used_before_anything_is_bought(self) -> None:
        cuts = cut_all([piece(100, 100, 10)], entries(stock(size="100 x 100 mm"), stock(size="100 x 100 mm", count=4)), Cutting())
        assert [(one.entry.number, one.used, one.missing) for one in cuts[0].cuts] == [(2, 4, 0), (1, 6, 0)]

    def test_what_goes_on_one_stock_only_keeps_it(self) -> None:
        """Two sheets of the large paper: the two large pieces need them both, so the small ones go on the small paper."""
        wanted = [piece(100, 100, 2, name="small"), piece(200, 200, 2, name="large")]
        cuts = cut_all(wanted, entries(stock(size="200 x 200 mm", count=2), stock(size="100 x 100 mm", count=2)), Cutting())[0]
        assert (cuts.missing, cuts.without, [one.used for one in cuts.cuts]) == (0, (), [2, 2])

    def test_of_many_stocks_what_is_missing_is_missing_of_the_largest(self) -> None:
        """Four sheets on hand, 1 + 2 + 3 + 6 pieces of 100 x 100: of 24, twelve are left, two more of the largest."""
        sizes = ("100 x 100 mm", "300 x 200 mm", "100 x 200 mm", "100 x 300 mm")
        cuts = cut_all([piece(100, 100, 24)], entries(*(stock(size=size, count=1) for size in sizes)), Cutting())[0]
        assert [(one.entry.number, one.used, one.missing) for one in cuts.cuts] == [(1, 1, 0), (3, 1, 0), (4, 1, 0), (2, 3, 2)]

    def test_too_few_says_how_many_are_missing(self) -> None:
        cuts = cut_all([piece(130, 197, 28)], entries(stock(size="203.2 x 203.2 mm", count=3)), Cutting())  # one from a sheet
        told = [(lack.where, lack.what, lack.piece) for lack in lacks(cuts, lambda _: [cuts[0].cuts[0].entry], "mm")]
        assert told == [("stock.1.count", "cover paper: 3 sheets of harbour pad on hand, 28 needed: 25 missing", "")]

    def test_a_piece_that_goes_on_nothing_is_left(self) -> None:
        cuts = cut_all([piece(300, 300)], entries(stock(size="200 x 200 mm")), Cutting())[0]
        assert ([need.name for need in cuts.without], cuts.cuts) == (["covering"], ())

    def test_a_sheet_is_halved_whatever_the_blade_takes(self) -> None:
        whole = table_of(f'{ORCHARD}[cutting]\nblade = "1 mm"\n')
        assert whole.of("text paper").used == 10  # 20 folios, two from each Letter

    def test_rolls_are_used_up_one_after_the_other(self) -> None:
        """300 mm, 305 with the cut: three from a metre. The roll on hand gives three, the other four come from two more."""
        rolls = entries(stock("tape", length="1000 mm", count=1), stock("tape", length="1000 mm"))
        cuts = cut_all([Need("tape", "tape", Size(100, 300), "none", 7)], rolls, Cutting())[0]
        assert [(one.entry.number, one.used, one.missing) for one in cuts.cuts] == [(1, 1, 0), (2, 2, 0)]

    def test_a_roll_too_narrow_takes_nothing(self) -> None:
        narrow = entries(stock("tape", length="5 m", width="50 mm"))
        assert cut_all([Need("tape", "tape", Size(100, 300), "none", 1)], narrow, Cutting())[0].without

    def test_front_and_back_of_one_size_are_one_kind(self) -> None:
        whole = table_of(f'{ORCHARD}[[stock]]\nmaterial = "board"\nname = "grey"\nsize = "300 x 400 mm"\ngrain = "long"\n')
        boards = whole.of("board").sheets[0]
        assert ([kind.name for kind in boards.kinds], boards.kinds[0].want.count) == (["board"], 2)


class TestDiffering:
    """Books that are not alike: whose a piece is, and of what the spare ones are."""

    def of(self, **changes: object) -> Plan:
        keys = {key.replace("__", "."): value for key, value in changes.items()}
        return plan(checked_spec(changed(ORCHARD.encode(), keys), for_printing=False))

    def test_spare_books_are_those_that_most_make(self) -> None:
        spec = checked_spec(f"{ORCHARD}[class]\nstudents = 3\nspare = '10 %'\n", for_printing=False)
        narrow = self.of(tape__width="3 in")
        found = {need.name: need for need in table(spec, plan(spec), (Books(narrow, 3),)).needs}
        assert (found["tape"].size.width, found["tape"].count) == (pytest.approx(76.2), 4)  # 3, and 10 % of 3 make one more

    def test_pieces_that_differ_in_grain_alone_say_whose_they_are(self) -> None:
        along, across = self.of(), self.of(text_block__grain="short")
        folios = [need for need in needs([Books(along, 2, (1, 3)), Books(across, 1, (2,))]) if need.name == "folio"]
        assert [(need.grain, need.count, need.whose) for need in folios] == [("head to tail", 40, "1, 3"), ("across", 20, "2")]

    def test_pieces_that_only_some_books_have_say_whose_they_are(self) -> None:
        taped, joined = self.of(), self.of(cover__join="1/4 in")
        strips = [need for need in needs([Books(taped, 1, (1,)), Books(joined, 1, (2,))]) if "strip" in need.name]
        assert {need.whose for need in strips} == {"2"}

    def test_pieces_of_unlike_grain_are_not_one_kind(self) -> None:
        """One sheet of any grain is on hand: what is then left goes where its own grain allows, each kind by itself."""
        wanted = [piece(100, 200, 1, "head to tail", "upright one"), piece(100, 200, 1, "across", "turned one")]
        cuts = cut_all(wanted, entries(stock(size="100 x 200 mm", count=1), stock(size="100 x 200 mm", grain="long")), Cutting())
        assert (cuts[0].without, [one.used for one in cuts[0].cuts]) == ((), [1, 1])

    def test_the_blade_counts_on_board_of_the_size_of_the_text_sheet(self) -> None:
        text = f'{ORCHARD}[cutting]\nblade = "3 mm"\n[[stock]]\nmaterial = "board"\nname = "grey"\nsize = "Letter"\n'
        whole = table_of(text)
        assert [(cuts.material, cuts.sheets[0].blade) for cuts in whole.materials if cuts.sheets] == [
            ("text paper", 0.0),
            ("board", 3.0),
        ]
