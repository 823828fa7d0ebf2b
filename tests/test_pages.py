"""Where plates come to lie: never scaled, never nearer than 4 mm, never outside the room; and what every page carries."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations

import pytest
import shapely  # type: ignore[import-untyped]  # it ships no types
from hypothesis import given, settings
from hypothesis import strategies as st

from bookplates.errors import PaperTooSmall
from bookplates.geometry import Box, Size
from bookplates.pages.place import make_pages
from bookplates.pages.sheets import Placement, Sheet
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Label, Stroke
from drawings import card

A4 = PageSetup(Size(210, 297), 6)
LETTER = PageSetup(Size(215.9, 279.4), 6.35)


def laid(drawings: Iterable[Drawing], setup: PageSetup = A4) -> tuple[Sheet, ...]:
    return make_pages(tuple(drawings), setup, "Tide pool sketchbook", "Allotment class")


def plates_of(sheet: Sheet) -> list[str]:
    """The plates on a page without its frame."""
    return [placement.drawing.plate for placement in sheet.placements[:-1]]


def polygon(placement: Placement) -> shapely.Polygon:
    return shapely.Polygon([placement.matrix.at(corner) for corner in placement.drawing.box.corners])


def frame_of(sheet: Sheet) -> Drawing:
    return sheet.placements[-1].drawing


def texts(sheet: Sheet) -> list[str]:
    return [item.text for item in frame_of(sheet).items if isinstance(item, Label)]


def bars(sheet: Sheet) -> dict[str | None, Stroke]:
    return {item.part: item for item in frame_of(sheet).parts()}


def test_small_plates_share_a_page_in_order() -> None:
    pages = laid([card("spacer", 12, 140), card("mitre gauge", 40, 8), card("punch guide", 60, 140)])
    assert [plates_of(page) for page in pages] == [["spacer", "mitre gauge", "punch guide"]]
    assert pages[0].title == "spacer; mitre gauge; punch guide"


def test_a_small_plate_stays_with_its_neighbours_where_that_costs_no_page() -> None:
    # The room is 210 - 2 x 6 - 11 = 187 by 297 - 2 x 6 - 24 = 261 mm.
    pages = laid([card("wrap outline", 150, 255), card("board outline", 160, 250), card("spacer", 20, 200)])
    assert [plates_of(page) for page in pages] == [["wrap outline"], ["board outline", "spacer"]]


def test_a_small_plate_fills_room_left_on_an_earlier_page_where_that_saves_one() -> None:
    pages = laid([card("wrap outline", 150, 255), card("board outline", 170, 250), card("spacer", 20, 200)])
    assert [plates_of(page) for page in pages] == [["wrap outline", "spacer"], ["board outline"]]


def test_a_whole_page_has_its_page_to_itself() -> None:
    pages = laid([card("spacer", 12, 14), card("sizes", 187, 261, whole_page=True), card("mitre gauge", 40, 8)])
    assert [plates_of(page) for page in pages] == [["spacer", "mitre gauge"], ["sizes"]]


def test_the_room_is_used_to_its_last_hair_and_no_further() -> None:
    (page,) = laid([card("wrap outline", 187, 261)])
    assert polygon(page.placements[0]).bounds == pytest.approx((17, 30, 204, 291), abs=1e-9)
    assert len(laid([card("wrap outline", 187.01, 261)])) == 2


def test_a_wide_plate_is_turned_and_not_mirrored() -> None:
    (page,) = laid([card("tape guide", 250, 100)])
    turned = page.placements[0]
    assert polygon(turned).bounds == pytest.approx((17, 41, 117, 291), abs=1e-9)
    # Counter-clockwise: the plate's lower left corner (-3, 2) comes to lie at the lower right.
    assert turned.matrix.at((-3, 2)) == pytest.approx((117, 41), abs=1e-9)
    assert turned.matrix.at((247, 2)) == pytest.approx((117, 291), abs=1e-9)


def test_turning_is_a_permission() -> None:
    assert len(laid([card("wrap outline", 100, 250), card("tape guide", 250, 80)])) == 1
    left, right = laid([card("tape guide", 250, 100, turnable=False)])
    assert all(page.placements[0].matrix.at((1, 0))[0] - page.placements[0].matrix.at((0, 0))[0] == 1 for page in (left, right))


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.floats(5, 180), st.floats(5, 180), st.booleans()), min_size=1, max_size=14),
    st.sampled_from([A4, LETTER]),
)
def test_plates_keep_their_distance_and_their_size(cards: list[tuple[float, float, bool]], setup: PageSetup) -> None:
    pages = laid([card(f"plate {i}", w, h, turnable=turnable) for i, (w, h, turnable) in enumerate(cards)], setup)
    assert sorted(name for page in pages for name in plates_of(page)) == sorted(f"plate {i}" for i in range(len(cards)))
    # Margin and strips typed anew: 11 mm at the left, 24 mm at the foot.
    m = setup.margin
    room = shapely.box(m + 11, m + 24, setup.paper.width - m, setup.paper.height - m).buffer(1e-6)
    for page in pages:
        shapes = [polygon(placement) for placement in page.placements[:-1]]
        assert all(room.covers(shape) for shape in shapes)
        assert all(one.distance(other) >= 4 - 1e-6 for one, other in combinations(shapes, 2))
    areas = {p.drawing.plate: polygon(p).area for page in pages for p in page.placements[:-1]}
    assert all(areas[f"plate {i}"] == pytest.approx(w * h, rel=1e-9) for i, (w, h, _) in enumerate(cards))


def test_paper_too_small_for_a_whole_page_names_plate_need_and_paper() -> None:
    sizes = card("sizes", 230, 280, title="sizes, 2", whole_page=True), card("steps", 200, 270, whole_page=True)
    with pytest.raises(PaperTooSmall) as caught:
        laid([*sizes, card("spacer", 20, 100)])
    first, second = caught.value.problems
    assert first.where == "print.paper"
    assert first.what == "the plate 'sizes, 2' needs 230.0 x 280.0 mm, and this paper leaves 187.0 x 261.0 mm"
    # 230 + 11 + 2 x 6 = 253 and 280 + 24 + 2 x 6 = 316; A3 is 297 x 420, Tabloid 279.4 x 431.8 mm: both take it
    # and nothing smaller of either family does.
    assert first.hint == "A3 or Tabloid would do, or any paper of 253 x 316 mm and more"
    # 200 + 23 = 223 by 270 + 36 = 306
    assert "steps" in second.what
    assert second.hint == "A3 or Tabloid would do, or any paper of 223 x 306 mm and more"


def test_paper_too_small_for_every_named_sheet_says_what_it_takes() -> None:
    with pytest.raises(PaperTooSmall) as caught:
        laid([card("sizes", 1500, 1200, whole_page=True)])
    # 1500 + 11 + 12 = 1523 across, where 1200 + 24 + 12 = 1236 would do along; but the short side is the one across.
    assert caught.value.problems[0].hint == "it takes paper of 1523 x 1523 mm at least"


def test_paper_advised_for_a_narrow_plate_takes_the_others_too() -> None:
    with pytest.raises(PaperTooSmall) as caught:
        laid([card("sizes", 50, 300, whole_page=True)])
    # 50 + 11 + 12 = 73 across would do for the plate, but not for the bars, nor for what just fits across the A4 there is;
    # 300 + 24 + 12 = 336.
    assert caught.value.problems[0].hint == "A3 or Legal would do, or any paper of 210 x 336 mm and more"


def test_paper_too_small_for_the_bars() -> None:
    with pytest.raises(PaperTooSmall, match="100 mm bars"):
        laid([card("spacer", 12, 40)], PageSetup(Size(105, 148), 5))
    assert laid([card("spacer", 12, 40)], PageSetup(Size(148, 210), 5))


@pytest.mark.parametrize("setup", [A4, LETTER, PageSetup(Size(148, 210), 5), PageSetup(Size(210, 297), 6, Size(97, 103))])
def test_every_page_carries_both_bars_at_100_mm(setup: PageSetup) -> None:
    for page in laid([card("spacer", 12, 100), card("sizes", 80, 100, whole_page=True)], setup):
        drawn = bars(page)
        assert set(drawn) == {"bar across", "bar along"}
        (x0, y0), (x1, y1) = drawn["bar across"].points
        assert (x1 - x0, y1 - y0) == pytest.approx((100, 0), abs=1e-9)
        (x0, y0), (x1, y1) = drawn["bar along"].points
        assert (x1 - x0, y1 - y0) == pytest.approx((0, 100), abs=1e-9)
        assert frame_of(page).plate == page.placements[0].drawing.plate


def test_inch_ticks_stand_at_whole_inches_from_the_start_of_the_bar() -> None:
    (page,) = laid([card("spacer", 12, 100)])
    start = bars(page)["bar across"].points[0]
    ticks = [item.points for item in frame_of(page).items if isinstance(item, Stroke) and item.line == "thin"]
    below = sorted(p[0][0] - start[0] for p in ticks if abs(p[0][1] - start[1]) < 1e-9 and p[1][1] < start[1] - 1.2)
    assert below == pytest.approx([0, 25.4, 50.8, 76.2], abs=1e-9)


def test_a_plate_that_draws_the_bars_itself_has_a_page_without_others() -> None:
    own = tuple(Stroke(((0, 0), end), "bar", part=name) for name, end in (("bar across", (100, 0)), ("bar along", (0, 100))))
    scale = replace(card("scale page", 120, 200, whole_page=True), items=own)
    pages = laid([scale, card("spacer", 12, 100)])
    assert bars(pages[0]) == {}
    assert set(bars(pages[1])) == {"bar across", "bar along"}


def test_the_title_block_says_what_the_page_is() -> None:
    first, second = laid([card("board outline", 180, 250, title="board outline, front"), card("tape guide", 180, 250)])
    said = {"Tide pool sketchbook", "Allotment class", "board outline, front", "page 1 of 2", "mm (in)"}
    assert said <= set(texts(first))
    assert any(text.startswith("print at 100 %") for text in texts(first))
    assert {"tape guide", "page 2 of 2"} <= set(texts(second))


def test_the_unit_that_is_shown_first_stands_first() -> None:
    (page,) = make_pages([card("spacer", 12, 100)], A4, "Tide pool sketchbook", "", "in")
    assert "in (mm)" in texts(page)
    assert "mm (in)" not in texts(page)


def test_the_plates_of_a_full_page_are_all_named() -> None:
    names = ["board outline", "wrap outline, front", "mitre gauge", "margin gauge", "tape gauge"]
    (page,) = laid([card("wrap outline", 30, 30, title=name) for name in names])
    assert "; ".join(names) in texts(page)


def test_no_maker_no_field_for_one() -> None:
    (page,) = make_pages([card("spacer", 12, 100)], A4, "Tide pool sketchbook", "")
    assert "made by" not in texts(page)


def test_a_long_title_is_shortened_to_its_field() -> None:
    title = "Everything that was ever found in the tide pools north of the long breakwater, drawn from life by a class of thirty"
    (page,) = make_pages([card("spacer", 12, 100)], A4, title, title)
    cut = [text for text in texts(page) if text.endswith("…")]
    assert len(cut) == 2
    assert all(title.startswith(text[:-1]) for text in cut)


def test_a_corrected_page_says_so_and_keeps_its_margin() -> None:
    # A bar read as 98 mm across, 102 mm along: stretched by 100/98 across, shrunk by 100/102 along.
    (page,) = laid([card("spacer", 12, 100)], PageSetup(Size(210, 297), 6, Size(98, 102)))
    assert page.correction == pytest.approx((1.0204081633, 0.9803921569), abs=1e-9)
    assert any("corrected for 98 mm across, 102 mm along" in text for text in texts(page))
    box: Box = frame_of(page).box
    assert box.left * 100 / 98 == pytest.approx(6, abs=1e-9)
    assert box.right * 100 / 98 == pytest.approx(204, abs=1e-9)
    assert box.top * 100 / 102 == pytest.approx(291, abs=1e-9)


def test_no_drawings_no_pages() -> None:
    assert laid([]) == ()
