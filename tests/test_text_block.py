"""The text block held against the publications: leaves, grain, folios, creep, trim, thickness. Sums stand beside them."""

from __future__ import annotations

from fractions import Fraction

import pytest

import handbook as h
from bookplates.book.leaf import halved
from bookplates.book.text_block import shared_out
from bookplates.geometry import Size
from shapes import ORCHARD, planned, refusals, warnings

LETTER, A4 = Size(215.9, 279.4), Size(210, 297)  # 8 1/2 x 11 in; ISO 216
SHEET = {"text_block.leaf": None}


def mm(inches: Fraction | float) -> float:
    return float(inches) * 25.4


# Leaves by hand: each halving divides the longer side. ISO 216: A4 halved is A5, A6, A7, A8 (handbook PS1, PS4), but not
# rounded down to whole mm: 297 / 2 = 148.5, 210 / 2 = 105, 148.5 / 2 = 74.25, 105 / 2 = 52.5
UPRIGHT = [
    (LETTER, 1, (139.7, 215.9), "across"),  # 5 1/2 x 8 1/2: the height lies along the short side
    (LETTER, 2, (107.95, 139.7), "head to tail"),  # 4 1/4 x 5 1/2
    (LETTER, 3, (69.85, 107.95), "across"),  # 2 3/4 x 4 1/4
    (LETTER, 4, (53.975, 69.85), "head to tail"),  # 2 1/8 x 2 3/4
    (A4, 1, (148.5, 210), "across"),
    (A4, 2, (105, 148.5), "head to tail"),
    (A4, 3, (74.25, 105), "across"),
    (A4, 4, (52.5, 74.25), "head to tail"),
]
OTHER = {"across": "head to tail", "head to tail": "across"}


class TestLeaf:
    @pytest.mark.parametrize(("sheet", "halvings", "size", "grain"), UPRIGHT)
    @pytest.mark.parametrize("turned", [False, True])
    def test_upright(self, sheet, halvings, size, grain, turned):
        leaf = halved(sheet.turned if turned else sheet, halvings, "upright", "long")
        assert leaf.size == pytest.approx(size)
        assert leaf.grain == grain
        assert leaf.folios_per_sheet == {1: 1, 2: 2, 3: 4, 4: 8}[halvings]
        assert leaf.spread_fits
        assert halved(sheet, halvings, "upright", "short").grain == OTHER[grain]

    @pytest.mark.parametrize(("sheet", "halvings", "size", "grain"), UPRIGHT)
    def test_oblong_is_the_same_lying_down(self, sheet, halvings, size, grain):
        leaf = halved(sheet, halvings, "oblong", "long")
        assert leaf.size == pytest.approx((size[1], size[0]))
        assert leaf.grain == OTHER[grain]
        assert leaf.spread_fits == (halvings > 1)

    @pytest.mark.parametrize(("number", "halvings"), [(5, 1), (6, 2), (7, 3), (8, 4)])
    def test_iso_216(self, number, halvings):
        """Halving a sheet of the A series gives the later sheets of it, to the half millimetre that ISO 216 drops."""
        leaf = halved(Size(*h.PS1_A_MM["A4"]), halvings, "upright", "long").size
        assert leaf == pytest.approx(h.PS1_A_MM[f"A{number}"], abs=0.5)

    @pytest.mark.parametrize("grain", ["long", "short"])
    @pytest.mark.parametrize(("halvings", "size"), [(1, (150, 300)), (2, (150, 150)), (3, (75, 150)), (4, (75, 75))])
    def test_square_sheet_can_be_turned_to_its_grain(self, halvings, size, grain):
        leaf = halved(Size(300, 300), halvings, "upright", grain)
        assert leaf.size == pytest.approx(size)
        assert leaf.grain == "head to tail"
        assert leaf.spread_fits

    def test_square_leaf_of_an_oblong_sheet_stands_so_that_folios_fit(self):
        # 200 x 100 halved once: 100 x 100, two side by side along the long side only
        leaf = halved(Size(200, 100), 1, "upright", "short")
        assert (leaf.size, leaf.spread_fits, leaf.grain) == (Size(100, 100), True, "head to tail")
        assert halved(Size(200, 100), 1, "upright", "long").grain == "across"

    @pytest.mark.parametrize("grain", ["long", "short"])
    @pytest.mark.parametrize(("sheet", "halvings", "size"), [((200, 400), 2, (100, 200)), ((150, 600), 3, (75, 150))])
    def test_folded_to_a_square_a_sheet_goes_on_as_its_grain_likes(self, sheet, halvings, size, grain):
        # 200 x 400 folded once is 200 x 200: the next fold may run either way, and gives 100 x 200 both times
        leaf = halved(Size(*sheet), halvings, "upright", grain)
        assert leaf.size == pytest.approx(size)
        assert (leaf.grain, leaf.spread_fits) == ("head to tail", True)

    def test_a_long_strip_takes_no_upright_quarto(self):
        # 400 x 100 halved twice along its length: 100 x 100; 500 x 100: 125 x 100, upright 100 wide: no spread of 200 x 125
        assert not halved(Size(500, 100), 2, "upright", "long").spread_fits
        assert halved(Size(500, 100), 2, "oblong", "long").spread_fits


class TestFormats:
    def test_oblong_folio_is_refused(self):
        problem = refusals(
            {**SHEET, "text_block.sheet": "Letter", "text_block.format": "folio", "text_block.orientation": "oblong"}
        )
        assert "text_block.sheet" in problem["text_block.orientation"].what

    def test_oblong_quarto_is_fine(self):
        changes = {**SHEET, "text_block.sheet": "Letter", "text_block.format": "quarto", "text_block.orientation": "oblong"}
        text = planned(changes).text_block
        assert (text.leaf_width, text.leaf_height) == pytest.approx((139.7, 107.95))
        assert text.grain == "across"

    @pytest.mark.parametrize(("format_", "folios"), [("folio", 6), ("quarto", 12), ("octavo", 24)])
    def test_sheets_give_folios(self, format_, folios):
        changes = {**SHEET, "text_block.folios": None, "text_block.sheet": "A4", "text_block.format": format_}
        text = planned({**changes, "text_block.sheets": 6, "cover.turn_in": "15 mm"}).text_block
        assert (text.folios, text.leaves, text.pages) == (folios, 2 * folios, 4 * folios)

    def test_folios_ask_for_whole_sheets(self):
        # 9 folios of octavo, four to a sheet: 9 / 4 = 2 1/4, so 3 sheets
        changes = {
            **SHEET,
            "text_block.folios": 9,
            "text_block.sheet": "A4",
            "text_block.format": "octavo",
            "cover.turn_in": "15 mm",
        }
        made = planned(changes)
        assert made.text_block.sheets == 3
        assert made.piece("text sheet").count == 3
        assert (made.piece("text sheet").width, made.piece("text sheet").height) == (210, 297)

    def test_leaves_given_are_folios_to_cut(self):
        sheet = planned().piece("text sheet")
        assert (sheet.count, sheet.width, sheet.height) == (8, 200, 150)

    @pytest.mark.parametrize(("leaf", "size"), [("150 x 100 mm", (150, 100)), ("100 x 150 mm", (100, 150))])
    def test_leaf_keeps_its_order(self, leaf, size):
        text = planned({"text_block.leaf": leaf}).text_block
        assert (text.leaf_width, text.leaf_height) == size
        assert text.grain == "head to tail"


class TestSharedOut:
    @pytest.mark.parametrize(
        ("folios", "sections", "shares"),
        [(20, 1, (20,)), (20, 3, (7, 7, 6)), (20, 4, (5, 5, 5, 5)), (5, 5, (1, 1, 1, 1, 1)), (7, 5, (2, 2, 1, 1, 1))],
    )
    def test_evenly_the_thicker_first(self, folios, sections, shares):
        assert shared_out(folios, sections) == shares

    def test_more_sections_than_folios(self):
        found = refusals({"text_block.sections": 9})
        assert "folios" in found["text_block.sections"].what


class TestCreep:
    @pytest.mark.parametrize(("sheets", "creep"), list(h.E11_CREEP_IN.items()))
    def test_printers_stack(self, sheets, creep):
        """Printing-trade explanation of creep: caliper 0.005 in (handbook CR1, E11)."""
        text = planned(
            {"units": "in", "text_block.leaf": "4 x 6 in", "text_block.folios": sheets, "text_block.caliper": h.CR1_CALIPER_IN}
        ).text_block
        assert text.creep == pytest.approx(creep * 25.4, abs=0.01)

    # 8 folios of 0.1 mm on a leaf 100 mm wide. Sharp: creep 7 x 0.1 = 0.7. Round: 1.570796 x 0.7 = 1.099557
    @pytest.mark.parametrize(
        ("fold", "trim", "creep", "off", "width"),
        [
            ("sharp", "flush", 0.7, 0.7, 100.0),
            ("sharp", "none", 0.7, 0.0, 100.7),
            ("sharp", "2 mm", 0.7, 2.0, 98.7),  # 100 + 0.7 - 2
            ("round", "flush", 1.099557, 1.099557, 99.600443),  # 100 - 0.570796 x 0.7
            ("round", "none", 1.099557, 0.0, 100.7),
            ("round", "2 mm", 1.099557, 2.0, 98.7),
        ],
    )
    def test_width_of_the_block(self, fold, trim, creep, off, width):
        text = planned({"text_block.fold": fold, "text_block.trim": trim}).text_block
        assert text.creep == pytest.approx(creep, abs=1e-6)
        assert text.fore_edge_trim == pytest.approx(off, abs=1e-6)
        assert text.block_width == pytest.approx(width, abs=1e-6)

    def test_one_folio_has_none(self):
        text = planned({"text_block.folios": 1, "text_block.fold": "round"}).text_block
        assert (text.creep, text.block_width) == (0, 100)

    def test_trim_may_not_eat_the_leaf(self):
        assert "text_block.trim" in refusals({"text_block.leaf": "60 x 150 mm", "text_block.trim": "61 mm"})


class TestThickness:
    def test_two_leaves_a_folio(self):
        text = planned().text_block
        assert text.thickness == pytest.approx(1.6)  # 2 x 8 x 0.1
        assert text.section_thickness == pytest.approx(1.6)

    def test_sheets_to_the_inch(self):
        """Paper maker's note: 4.0 mil paper makes 250 sheets to the inch (handbook PW9, E14), so 125 folios."""
        text = planned(
            {
                "text_block.folios": 125,
                "text_block.caliper": f"{h.PW9_MIL / 1000} in",
                "tape.width": "150 mm",
                "text_block.leaf": "150 x 150 mm",
            }
        ).text_block
        assert text.leaves == h.PW9_SHEETS_PER_INCH
        assert text.thickness == pytest.approx(25.4)

    @pytest.mark.parametrize(("caliper", "pages"), list(h.PW10_PAGES_PER_INCH.items()))
    def test_pages_to_the_inch(self, caliper, pages):
        """Book printer's table of pages to the inch (handbook PW10)."""
        text = planned(
            {
                "text_block.folios": 100,
                "text_block.caliper": f"{caliper} in",
                "tape.width": "250 mm",
                "text_block.leaf": "150 x 150 mm",
            }
        ).text_block
        assert text.pages / (text.thickness / 25.4) == pytest.approx(pages, abs=1.5)  # the table is rounded, as 0.0061: 327.9

    def test_weight_and_bulk(self):
        # 20 lb bond is 75.2 g/m2 (handbook E12); x 1.3 / 1000 = 0.0978 mm, the merchant's guide value 0.097 (PW7)
        text = planned({"text_block.caliper": None, "text_block.weight": h.E12_WEIGHT, "text_block.bulk": 1.3}).text_block
        assert text.caliper == pytest.approx(0.0978, abs=0.0001)

    def test_grammage_and_bulk(self):
        # 90 x 1.3 / 1000 = 0.117
        text = planned({"text_block.caliper": None, "text_block.grammage": 90, "text_block.bulk": 1.3}).text_block
        assert text.caliper == pytest.approx(0.117)

    def test_usual_caliper_is_listed(self):
        made = planned({"text_block.caliper": None, "units": "in", "text_block.leaf": "4 x 6 in"})
        assert made.text_block.caliper == 0.1  # common practice, no source
        assert ("text_block.caliper", "0.1 mm") in [(default.where, default.value) for default in made.defaults]


class TestMeasured:
    def test_each_takes_the_place_of_the_computed(self):
        text = planned({"measured.width": "99 mm", "measured.height": "149 mm", "measured.thickness": "1.9 mm"}).text_block
        assert (text.block_width, text.leaf_height, text.thickness) == (99, 149, 1.9)
        assert text.measured == ("width", "height", "thickness")

    def test_and_is_used_everywhere(self):
        made = planned({"measured.width": "99 mm", "measured.height": "149 mm", "measured.thickness": "1.9 mm"})
        cover = made.cover
        assert cover.board_width == pytest.approx(95.825)  # 99 + 3.175 - 6.35
        assert cover.board_height == pytest.approx(155.35)  # 149 + 6.35
        assert cover.boards_apart == pytest.approx(14.6)  # 1.9 + 12.7
        assert made.sewing.stations[0] + made.sewing.stations[-1] == pytest.approx(149)
        assert made.provisional == ()

    def test_what_is_not_measured_is_provisional(self):
        assert "boards apart" in planned({"measured.width": "99 mm"}).provisional
        assert "board width" not in planned({"measured.width": "99 mm"}).provisional
        assert "board width" in planned({"measured.thickness": "1.6 mm"}).provisional

    def test_a_gap_makes_boards_hang_on_the_thickness(self):
        found = planned({"measured.width": "99 mm", "cover.gap": "14 mm"}).provisional
        assert set(found) == {
            *("thickness", "open width", "board width", "covering width", "lining width"),
            *("joint width", "square, fore-edge"),
        }

    def test_a_measured_thickness_leaves_what_hangs_on_the_width(self):
        # open: two boards, each by the block's width, and what is between them
        found = planned({"measured.thickness": "1.6 mm"}).provisional
        assert set(found) == {"block width", "open width", "board width", "covering width", "lining width"}

    @pytest.mark.parametrize(("found", "warned"), [("1.6 mm", False), ("2.2 mm", False), ("4 mm", True), ("0.9 mm", True)])
    def test_far_from_the_computed(self, found, warned):
        assert ("measured.thickness" in warnings({"measured.thickness": found})) == warned

    def test_another_leaf_was_measured(self):
        found = warnings({"measured.width": "85 mm", "measured.height": "170 mm"})
        assert {"measured.width", "measured.height"} <= set(found)


class TestWarnings:
    @pytest.mark.parametrize(("folios", "warned"), [(12, False), (13, True)])
    def test_springs_open(self, folios, warned):
        assert ("text_block.folios" in warnings({"text_block.folios": folios})) == warned

    def test_springs_open_by_sheets(self):
        assert "text_block.sheets" in warnings({}, ORCHARD)

    @pytest.mark.parametrize(("folios", "warned"), [(7, False), (8, True)])
    def test_much_creep(self, folios, warned):
        # 6 x 0.5 = 3.0 is not passed, 7 x 0.5 = 3.5 is
        assert ("text_block.folios" in warnings({"text_block.folios": folios, "text_block.caliper": "0.5 mm"})) == warned

    @pytest.mark.parametrize(("grain", "warned"), [("long", False), ("short", True)])
    def test_cross_grain(self, grain, warned):
        assert ("text_block.grain" in warnings({"text_block.grain": grain}, ORCHARD)) == warned

    @pytest.mark.parametrize(("at_once", "warned"), [(8, False), (7, True)])
    def test_too_thick_to_pierce(self, at_once, warned):
        found = warnings({"sewing.punch_at_once": at_once})
        assert ("sewing.punch_at_once" in found) == warned
        if warned:
            assert "4 and 4" in found["sewing.punch_at_once"].hint

    def test_trim_none_prints_both_squares(self):
        # creep 0.7: boards made for a trimmed block would leave 3.175 - 0.7 = 2.475 mm
        problem = warnings({"text_block.trim": "none"})["text_block.trim"]
        assert "2.48 mm" in problem.what
        assert "3.18 mm" in problem.what
        assert "100.7 mm" in problem.what

    @pytest.mark.parametrize(("trim", "warned"), [("10 mm", False), ("10.1 mm", True)])
    def test_more_than_a_tenth_is_cut_off(self, trim, warned):
        assert ("text_block.trim" in warnings({"text_block.trim": trim})) == warned
