"""The wrapper: sizes typed by hand beside their sums, outlines judged by another geometry library."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box

import handbook as h
from bookplates.book.record import Plan
from bookplates.handout.steps import steps
from bookplates.kinds.parts import Layout, Part
from bookplates.papers.printing import PageSetup
from bookplates.plates import cover_punch_guide
from bookplates.plates.drawing import Label
from check_book import A4
from shapes import assert_true_outline, planned, polygon, refusals, warnings

# A pear list for the orchard class: leaves 100 x 150 mm, 8 folios of 0.1 mm, so 1.6 mm thick; all else by default
PEARS: dict[str, Any] = {
    "title": "List of old pears",
    "text_block.leaf": "100 x 150 mm",
    "text_block.folios": 8,
    "text_block.caliper": "0.1 mm",
    "cover.style": "wrapper",
}
# Three sections of 12 folios of 0.15 mm as a ruler found them: 12 mm, so 4 mm a section, their folds at 2, 6 and 10
THREE = {
    "text_block.folios": 36,
    "text_block.caliper": "0.15 mm",
    "text_block.sections": 3,
    "measured.thickness": "12 mm",
    "sewing.pattern": "long stitch",
    "sewing.stations": [20, 60, 90, 130],
}


def wrapped(**changes: Any) -> Plan:
    return planned(_dotted(changes), PEARS)


def _dotted(changes: dict[str, Any]) -> dict[str, Any]:
    return {key.replace("__", "."): value for key, value in changes.items()}


def layout_of(made: Plan, plate: str) -> Layout:
    (layout,) = made.layouts_of(plate)
    return layout


def x_of(part: Part) -> float:
    """Where a line from tail to head stands."""
    (x, low), (same, high) = part.points
    assert x == same
    assert low == 0 < high
    return x


def middles(layout: Layout, beginning: str) -> list[tuple[float, float]]:
    return [part.box.middle for part in layout.named(beginning)]


def mm(inches: Fraction) -> float:
    return float(inches) * 25.4


class TestSizes:
    @pytest.mark.parametrize("square", h.SQ10_SQUARE_IN)
    def test_cover_of_a_single_section(self, square):
        """Bean & Brodhead, Problem I: the cover stands 1/8 to 1/4 in beyond the pages (handbook SQ10)."""
        made = wrapped(cover__square=mm(square), measured__thickness="1 mm")
        cover = made.cover
        assert cover.open_height - 150 == pytest.approx(2 * mm(square))
        assert (cover.open_width - 1) / 2 - 100 == pytest.approx(mm(square))
        assert "cover.square" not in warnings({"cover.square": mm(square)}, PEARS)

    def test_the_usual_square(self):
        """Bean & Brodhead: about 1/8 in (handbook SQ3)."""
        cover = wrapped().cover
        assert [cover.square_head, cover.square_tail, cover.square_fore_edge] == pytest.approx([mm(h.SQ3_SQUARE_IN)] * 3)

    def test_by_hand(self):
        made = wrapped(cover__square={"head": 2, "tail": 5, "fore_edge": 4})
        assert made.cover.open_width == pytest.approx(209.6)  # 2 x (100 + 4) + 1.6
        assert made.cover.open_height == pytest.approx(157)  # 150 + 2 + 5
        card = made.piece("wrapper")
        assert (card.width, card.height, card.count) == pytest.approx((209.6, 157, 1))
        assert (card.material, card.grain) == ("card", "head to tail")

    @settings(deadline=None, derandomize=True, max_examples=40)
    @given(st.floats(80, 300), st.floats(0.5, 30), st.floats(0, 9))
    def test_open_width(self, width, thick, square):
        """An identity: laid open the cover is two leaves, two squares and the thickness wide."""
        made = wrapped(
            **{"text_block.leaf": [width, 150]}, measured__width=width, measured__thickness=thick, cover__square=square
        )
        assert made.cover.open_width == pytest.approx(2 * (width + square) + thick)

    def test_what_it_has_none_of(self):
        cover = wrapped().cover
        nothing = ("board_width", "board_height", "boards_apart", "spine_piece_width", "gap", "joint", "mitre", "lining_margin")
        assert {getattr(cover, name) for name in (*nothing, "turn_in_head", "flap")} == {None}
        assert cover.board_thickness == 0.5
        assert wrapped().tape is None

    def test_stations_move_down_by_the_square_at_the_head(self):
        made = wrapped(cover__square={"head": 2, "tail": 5, "fore_edge": 4}, sewing__stations=[20, 75, 130])
        assert made.sewing.cover_stations == pytest.approx((22, 77, 132))

    def test_the_needle_meets_the_card_once(self):
        # five passes of a pamphlet stitch on three stations become longer by the card; 0.9 - 0.4 = 0.5 each
        thin, thick = (wrapped(cover__board=board).sewing for board in (0.4, 0.9))
        passes = [leg for leg in thin.path.legs if leg.deed == "pass"]
        assert thick.thread_length - thin.thread_length == pytest.approx(0.5 * len(passes))
        assert passes[0].through == pytest.approx(1.2)  # 8 x 0.1 + 0.4


class TestFolds:
    def test_two_folds_of_a_thick_spine(self):
        made = wrapped(measured__thickness="6 mm", cover__square=4)  # 2 x 104 + 6 = 214 wide, its middle at 107
        layout = layout_of(made, "wrap outline")
        assert layout.title == "wrapper"
        assert layout.use[0].startswith("INSIDE OF THE COVER UP")
        found = {part.name: (part.line, x_of(part)) for part in layout.parts if part.name != "wrapper"}
        assert found == {
            "front spine fold": ("fold", pytest.approx(104)),
            "back spine fold": ("fold", pytest.approx(110)),
            "spine centre": ("centre", pytest.approx(107)),
        }

    @pytest.mark.parametrize(("thick", "folds"), [(0.99, 1), (1.0, 2), (1.01, 2)])
    def test_a_thin_spine_is_a_single_fold(self, thick, folds):
        layout = layout_of(wrapped(measured__thickness=thick), "wrap outline")
        found = [part for part in layout.parts if part.line == "fold"]
        assert len(found) == folds
        if folds == 1:
            assert found[0].name == "spine fold"
            assert x_of(found[0]) == pytest.approx(layout.part("wrapper").box.size.width / 2)
            assert not layout.named("spine centre")

    def test_flaps(self):
        # 6 thick, square 4: 214 between the flaps' folds; each flap 40 and the card's 0.6: 40.6 + 214 + 40.6 = 295.2
        made = wrapped(measured__thickness="6 mm", cover__square=4, cover__flap=40, cover__board=0.6)
        assert made.cover.open_width == pytest.approx(214)
        assert made.cover.flap == 40
        assert made.piece("wrapper").width == pytest.approx(295.2)
        layout = layout_of(made, "wrap outline")
        found = {part.name: x_of(part) for part in layout.parts if part.line == "fold"}
        assert found == pytest.approx(
            {"front flap fold": 40.6, "front spine fold": 144.6, "back spine fold": 150.6, "back flap fold": 254.6}
        )
        assert "flap" in " ".join(layout.use)

    def test_right_changes_front_and_back(self):
        changes = {"measured__thickness": "6 mm", "cover__square": 4, "cover__flap": 40, "cover__board": 0.6}
        layout = layout_of(wrapped(**changes, text_block__opening="right"), "wrap outline")
        assert "the front at the right" in layout.use[0]
        found = {part.name: x_of(part) for part in layout.parts if part.line == "fold"}
        assert found == pytest.approx(
            {"back flap fold": 40.6, "back spine fold": 144.6, "front spine fold": 150.6, "front flap fold": 254.6}
        )


class TestCoverPunchGuide:
    def test_one_row_in_the_middle(self):
        made = wrapped(cover__square={"head": 2, "tail": 5, "fore_edge": 4}, sewing__stations=[20, 75, 130])
        layout = layout_of(made, "cover punch guide")
        strip = layout.part("cover punch guide").box
        assert (strip.bottom, strip.top) == pytest.approx((0, 157))
        assert strip.middle[0] == pytest.approx(0)
        assert middles(layout, "station ") == [pytest.approx((0, 157 - place)) for place in (22, 77, 132)]
        assert [x_of(part) for part in layout.named("front spine fold place")] == pytest.approx([-0.8])

    @pytest.mark.parametrize(("opening", "rows"), [("left", (-4, 0, 4)), ("right", (4, 0, -4))])
    def test_a_row_a_section_the_front_one_nearest_to_the_front(self, opening, rows):
        # 12 mm thick: folds 2, 6 and 10 from the front, so 4, 0 and 4 from the middle; inside up the front is at the left
        layout = layout_of(planned({**THREE, "text_block.opening": opening}, PEARS), "cover punch guide")
        for name, x in zip(("station ", "section 2 station ", "section 3 station "), rows, strict=True):
            assert [place[0] for place in middles(layout, name)] == pytest.approx([x] * 4)
        assert (x_of(layout.part("front spine fold place")) < 0) == (opening == "left")
        numbers = [part.name for part in layout.parts if part.line == "hole"]
        assert len(set(numbers)) == 12

    def test_rows_stand_in_the_spine(self):
        made = planned(THREE, PEARS)
        layout = layout_of(made, "cover punch guide")
        spine = box(-6, 0, 6, made.cover.open_height)
        assert all(spine.contains(polygon(part.points)) for part in layout.parts if part.line == "hole")

    def test_a_strip_is_no_wider_than_the_cover(self):
        made = wrapped(**{"text_block.leaf": "25 x 60 mm"}, sewing__stations=[10, 30, 50])
        strip = layout_of(made, "cover punch guide").part("cover punch guide").box.size
        assert strip.width == pytest.approx(made.cover.open_width)

    @pytest.mark.parametrize(("opening", "front"), [("left", "left"), ("right", "right")])
    def test_the_plate_says_where_the_front_is(self, opening, front):
        made = planned({**THREE, "text_block.opening": opening}, PEARS)
        (plate,) = cover_punch_guide.draw(made, PageSetup(A4, 6.35))
        at = {item.text: item.at[0] for item in plate.items if isinstance(item, Label) and item.text in ("FRONT", "BACK")}
        assert (at["FRONT"] < at["BACK"]) == (front == "left")

    def test_rows_share_their_numbers(self):
        (plate,) = cover_punch_guide.draw(planned(THREE, PEARS), PageSetup(A4, 6.35))
        texts = [item.text for item in plate.items if isinstance(item, Label)]
        assert [texts.count(str(number)) for number in (1, 2, 3, 4)] == [2] * 4
        assert "82 mm" not in " ".join(texts)
        assert sum(text.startswith("63.18 mm") for text in texts) == 1  # 60 + 3.175

    def test_taped_has_rows_as_well(self):
        changes = {**THREE, "cover.style": "taped", "text_block.opening": "left"}
        layout = layout_of(planned(changes, PEARS), "cover punch guide")
        found = {part.box.middle[0] for part in layout.parts if part.line == "hole"}
        assert sorted(found) == pytest.approx([-4, 0, 4])


class TestFindings:
    @pytest.mark.parametrize("flap", [105, 500])
    def test_a_flap_too_wide(self, flap):
        problem = refusals({"cover.flap": flap}, PEARS)["cover.flap"]
        assert "103.17 mm" in problem.hint  # 100 + 3.175 = 103.175, rounded to the safe side
        assert "cover.flap" not in refusals({"cover.flap": "103.17 mm"}, PEARS)

    def test_a_flap_too_narrow(self):
        assert "cover.flap" in warnings({"cover.flap": 9}, PEARS)
        assert "cover.flap" not in warnings({"cover.flap": 10}, PEARS)
        assert "cover.flap" in refusals({"cover.flap": 0}, PEARS)

    def test_card_that_does_not_fold(self):
        assert "1 mm" in warnings({"cover.board": "6 mm"}, PEARS)["cover.board"].hint
        assert "cover.board" not in warnings({"cover.board": "1 mm"}, PEARS)
        assert "cover.board" in refusals({"cover.board": "0.2 mm"}, PEARS)

    def test_a_wide_square(self):
        assert "cover.square" in warnings({"cover.square": 12}, PEARS)

    @pytest.mark.parametrize("key", ["joint", "gap", "turn_in", "mitre", "lining_margin", "spine_piece"])
    def test_keys_it_has_not(self, key):
        assert f"cover.{key}" in refusals({f"cover.{key}": 5}, PEARS)

    def test_rows_too_near(self):
        # 4 folios of 0.1 mm a section: 0.8 mm and the thread's 0.5 apart; all paper 8 x 0.8 = 6.4 mm: four sections at most
        changes = {"text_block.folios": 32, "text_block.sections": 8, "sewing.pattern": "long stitch"}
        problem = warnings(changes, PEARS)["text_block.sections"]
        assert "1.3 mm" in problem.what
        assert "text_block.sections" not in warnings({**changes, "text_block.sections": 4}, PEARS)

    def test_rows_far_enough(self):
        assert "text_block.sections" not in warnings(THREE, PEARS)


class TestWork:
    def test_card_steps_in_their_order(self):
        made = wrapped(cover__flap=40)
        titles = [step.title for step in steps(made)]
        own = ["Cut and score the card", "Fold the cover", "Turn the flaps in", "Pierce the section", "Pierce the cover"]
        assert [title for title in titles if title in own] == own
        assert titles.index("Make the cover punch guide") < titles.index("Cut and score the card")
        pictures = [step.picture for step in steps(made)]
        assert [name for name in pictures if name in ("score card", "fold wrapper", "flaps", "pierce cover")] == [
            "score card", "fold wrapper", "flaps", "pierce cover", "flaps",
        ]  # fmt: skip

    def test_no_flap_no_step(self):
        assert "Turn the flaps in" not in [step.title for step in steps(wrapped())]

    def test_where_the_sections_lie(self):
        assert "fold in the fold of the spine" in " ".join(wrapped(measured__thickness=0.8).laid_in)
        assert "midway between" in " ".join(wrapped(measured__thickness=2).laid_in)
        assert "section 1, the front section" in " ".join(planned(THREE, PEARS).laid_in)

    def test_no_board_nor_adhesive(self):
        said = " ".join(f"{step.title} {' '.join(step.sentences)}" for step in steps(wrapped()) if step.title != "Have ready")
        for word in ("covering", "lining", "mitre gauge", "spacer", "groove between", "tape"):
            assert word not in said, word


KEYS = st.fixed_dictionaries(
    {
        "text_block.leaf": st.tuples(st.floats(40, 200), st.floats(60, 300)).map(list),
        "text_block.opening": st.sampled_from(["left", "right"]),
        "measured.thickness": st.floats(0.4, 30),
        "cover.board": st.floats(0.3, 2),
        "cover.square": st.fixed_dictionaries({side: st.floats(0, 9) for side in ("head", "tail", "fore_edge")}),
        "cover.flap": st.one_of(st.none(), st.floats(1, 40)),
    }
)


@settings(deadline=None, derandomize=True, max_examples=60)
@given(KEYS)
def test_every_outline_is_true(keys):
    made = planned(keys, PEARS)
    for piece in made.pieces:
        assert_true_outline(piece.outline)
        assert polygon(piece.outline).area == pytest.approx(piece.width * piece.height)
    for plate in ("wrap outline", "cover punch guide"):
        layout = layout_of(made, plate)
        card = polygon(layout.parts[0].points)
        assert card.exterior.is_ccw
        assert all(card.buffer(1e-6).covers(polygon(part.points)) for part in layout.parts if part.closed)
        assert len({part.name for part in layout.parts}) == len(layout.parts)
        folds = [x_of(part) for part in layout.parts if not part.closed]
        assert all(card.bounds[0] < x < card.bounds[2] for x in folds)
