"""Packs written by hand, true and with one mistake each, held against a plan typed by hand."""

from __future__ import annotations

import io

import pikepdf
import pytest

from bookplates.errors import BadFile, Disagreement
from bookplates.geometry import Size
from bookplates.kinds.parts import Layout, hole, outline, rule
from bookplates.papers.printing import TRUE_READING
from bookplates.verify import verify_pack
from raw_pdf import BAR_PT, MM, bars, part, pdf

COVERING = ((0, 0), (120, 0), (135, 15), (135, 165), (120, 180), (0, 180))
WRAP = Layout(
    "wrap outline",
    "front",
    (
        outline("front covering", "cut", COVERING),
        outline("front board place", "place", ((0, 20), (110, 20), (110, 160), (0, 160))),
        rule("spine edge", "fold", (0, 0), (0, 180)),
    ),
)
GUIDE = Layout(
    "punch guide",
    "",
    (
        rule("fold", "fold", (0, 0), (0, 150)),
        hole("station 1", (0, 130), 1),
        hole("station 2", (0, 75), 1),
        hole("station 3", (0, 20), 1),
    ),
)

FRONT = "0 0 m 120 0 l 135 15 l 135 165 l 120 180 l 0 180 l s"
PLACE = "0 20 m 110 20 l 110 160 l 0 160 l s"
EDGE = "0 0 m 0 180 l S"


def wrap(front: str = FRONT, place: str = PLACE, edge: str = EDGE) -> str:
    """The wrap outline's parts, in mm."""
    return part(front) + part(place, "front board place", "place") + part(edge, "spine edge", "fold")


def circle(y: float, x: float = 0) -> str:
    """A circle of 1 mm about (x, y): radius 0.5, controls 0.5 x 0.55228 = 0.27614 mm off, begun at the right."""
    near, far = 0.27614, 0.5
    return (
        f"{x + far} {y} m {x + far} {y + near} {x + near} {y + far} {x} {y + far} c "
        f"{x - near} {y + far} {x - far} {y + near} {x - far} {y} c "
        f"{x - far} {y - near} {x - near} {y - far} {x} {y - far} c "
        f"{x + near} {y - far} {x + far} {y - near} {x + far} {y} c s"
    )


def guide(*stations: tuple[str, float]) -> str:
    """The punch guide's parts, in mm."""
    drawn = part("0 0 m 0 150 l S", "fold", "fold", "punch guide")
    return drawn + "".join(part(circle(y), name, "hole", "punch guide") for name, y in stations)


THREE = (("station 1", 130.0), ("station 2", 75.0), ("station 3", 20.0))


def placed(content: str, matrix: str = "1 0 0 1 30 40") -> str:
    """Content in mm under a matrix in mm."""
    return f"q {MM} 0 0 {MM} 0 0 cm q {matrix} cm {content} Q Q\n"


def page(content: str, matrix: str = "1 0 0 1 30 40", plate: str = "wrap outline") -> str:
    return bars(plate) + placed(content, matrix)


def disagreements(data: bytes, *layouts: Layout, readings: Size = TRUE_READING) -> list[str]:
    with pytest.raises(Disagreement) as caught:
        verify_pack(layouts or (WRAP,), data, readings)
    return [str(problem) for problem in caught.value.problems]


def test_a_true_pack() -> None:
    data = pdf(page(wrap()), page(guide(*THREE), plate="punch guide"))
    verified = verify_pack((WRAP, GUIDE), data)
    assert verified.parts == 11  # 2 bars and 3 parts, 2 bars and 4 parts
    assert verified.largest_difference < 0.0001
    assert verified.text == "verified: 11 parts, largest difference 0.0000 mm"


@pytest.mark.parametrize(
    "matrix",
    ["0 1 -1 0 200 20", "-1 0 0 -1 150 200", "0 -1 1 0 5 160", "0.8 0.6 -0.6 0.8 120 5", "-0.28 0.96 -0.96 -0.28 190 60"],
)
def test_a_template_may_be_turned_and_moved(matrix: str) -> None:
    assert verify_pack((WRAP,), pdf(page(wrap(), matrix))).largest_difference < 0.0001
    assert verify_pack((GUIDE,), pdf(page(guide(*THREE), matrix))).largest_difference < 0.0001


def test_an_outline_may_begin_at_any_corner() -> None:
    begun_later = "135 165 m 120 180 l 0 180 l 0 0 l 120 0 l 135 15 l s"
    place_begun_later = "110 160 m 0 160 l 0 20 l 110 20 l s"
    assert verify_pack((WRAP,), pdf(page(wrap(begun_later, place_begun_later), "0 1 -1 0 200 20"))).parts == 5


@pytest.mark.parametrize("matrix", ["-1 0 0 1 180 40", "1 0 0 -1 30 230", "0 1 1 0 20 30"])
def test_a_mirrored_template_is_refused(matrix: str) -> None:
    said = "\n".join(disagreements(pdf(page(wrap(), matrix))))
    assert "page 1, wrap outline: front covering (cut)" in said
    assert "mirrored" in said


def test_an_outline_run_backwards_is_refused() -> None:
    (said,) = disagreements(pdf(page(wrap(place="0 20 m 0 160 l 110 160 l 110 20 l s"))))
    assert "front board place" in said
    assert "mirrored" in said


def test_a_mirrored_symmetrical_outline_is_refused() -> None:
    square = Layout("spacer", "", (outline("spacer", "cut", ((0, 0), (50, 0), (50, 50), (0, 50))),))
    path = part("0 0 m 50 0 l 50 50 l 0 50 l s", "spacer", "cut", "spacer")
    assert verify_pack((square,), pdf(page(path, plate="spacer"))).parts == 3
    (said,) = disagreements(pdf(page(path, "-1 0 0 1 150 40", "spacer")), square)
    assert "mirrored" in said


def test_a_line_drawn_backwards_is_refused() -> None:
    assert any("spine edge (fold)" in said for said in disagreements(pdf(page(wrap(edge="0 180 m 0 0 l S")))))


def test_a_hundredth_of_a_millimetre_too_wide_is_too_much() -> None:
    wider = wrap(place="0 20 m 110.011 20 l 110.011 160 l 0 160 l s")  # shared out by the best fit: 0.0055 either side
    assert any("front board place" in line for line in disagreements(pdf(page(wider))))


def test_two_hundredths_are_too_much_and_five_thousandths_are_not() -> None:
    moved = "0.02 20 m 110.02 20 l 110.02 160 l 0.02 160 l s"
    assert any("front board place" in line for line in disagreements(pdf(page(wrap(place=moved)))))
    verified = verify_pack((WRAP,), pdf(page(wrap(place="0.005 20 m 110.005 20 l 110.005 160 l 0.005 160 l s"))))
    assert 0.002 < verified.largest_difference < 0.005  # the best fit shares the difference out

    assert any(
        "station 2 (hole)" in said for said in disagreements(pdf(page(guide(THREE[0], ("station 2", 75.02), THREE[2]))), GUIDE)
    )
    assert verify_pack((GUIDE,), pdf(page(guide(THREE[0], ("station 2", 75.005), THREE[2])))).parts == 6


def test_one_corner_out_of_place() -> None:
    assert any("front covering" in said for said in disagreements(pdf(page(wrap(FRONT.replace("135 15 l", "135 15.03 l"))))))


@pytest.mark.parametrize("matrix", ["1.0002 0 0 1.0002 30 40", "1 0 0.0005 1 30 40"])
def test_a_scaled_or_slanted_template_is_refused(matrix: str) -> None:
    # 0.2 in 1000 on 180 mm is 0.036 mm, 0.018 either side of the middle
    assert any("front covering" in said for said in disagreements(pdf(page(wrap(), matrix))))


def test_a_missing_part() -> None:
    data = pdf(page(part(FRONT) + part(EDGE, "spine edge", "fold")))
    assert disagreements(data) == ["page 1, wrap outline (front): front board place (place) is missing"]
    data = pdf(page(guide(*THREE[:2]), plate="punch guide"))
    assert disagreements(data, GUIDE) == ["page 1, punch guide: station 3 (hole) is missing"]


def test_an_extra_part() -> None:
    data = pdf(page(wrap() + part("0 0 m 9 0 l S", "tail edge", "fold")))
    assert disagreements(data) == ["page 1, wrap outline: tail edge (fold) is not in the plan"]


def test_a_part_drawn_twice() -> None:
    said = disagreements(pdf(page(wrap() + part(FRONT))))
    assert "page 1, wrap outline (front): front board place (place) is missing" in said


def test_a_renamed_part_and_a_wrong_line_are_both_listed() -> None:
    data = pdf(page(part(FRONT, "front coverng") + part(PLACE, "front board place", "cut") + part(EDGE, "spine edge", "fold")))
    assert disagreements(data) == [
        "page 1, wrap outline: front coverng (cut) is not in the plan",
        "page 1, wrap outline: front board place (cut) is not in the plan",
        "page 1, wrap outline (front): front board place (place) is missing",
        "page 1, wrap outline (front): front covering (cut) is missing",
    ]


def test_a_part_on_the_wrong_plate() -> None:
    said = disagreements(pdf(page(wrap().replace("(wrap outline)", "(lining outline)"))))
    assert "page 1, lining outline: front covering (cut) is not in the plan" in said
    assert "wrap outline (front): it is in the plan but on no page" in said


def test_an_open_outline_and_another_number_of_corners() -> None:
    (said,) = disagreements(pdf(page(wrap(place=PLACE.replace("s", "S")))))
    assert said.endswith("front board place (place) is an open line of 4 points, not a closed outline of 4 points")
    (said,) = disagreements(pdf(page(wrap(FRONT.replace("135 15 l ", "")))))
    assert said.endswith("front covering (cut) is a closed outline of 5 points, not a closed outline of 6 points")


def test_a_layout_that_is_nowhere() -> None:
    assert disagreements(pdf(page(wrap())), WRAP, GUIDE) == ["punch guide: it is in the plan but on no page"]


def test_a_pdf_without_parts() -> None:
    assert disagreements(pdf("0 0 m 9 9 l S")) == [
        "page 1: bar across is not drawn; it must stand there once",
        "page 1: bar along is not drawn; it must stand there once",
        "wrap outline (front): it is in the plan but on no page",
    ]


def test_every_copy_is_checked() -> None:
    true, false = page(wrap(), "1 0 0 1 -50 -80"), page(wrap(EDGE.replace("S", "120 0 l 135 15 l 135 165 l 120 180 l s")))
    assert verify_pack((WRAP,), pdf(true, page(wrap()), true)).parts == 15
    assert all(said.startswith("page 2, ") for said in disagreements(pdf(true, false)))


def test_several_copies_on_a_page() -> None:
    upright = placed(guide(*THREE), "1 0 0 1 170 40") + placed(guide(*THREE), "1 0 0 1 180 40")
    data = pdf(bars() + placed(wrap()) + upright + placed(guide(*THREE), "0 1 -1 0 190 225"))
    assert verify_pack((WRAP, GUIDE), data).parts == 17  # 2 bars, 3, 3 x 4


def test_a_template_that_lies_on_another_is_refused() -> None:
    data = pdf(bars() + placed(wrap()) + placed(guide(*THREE), "1 0 0 1 100 60"))
    assert disagreements(data, WRAP, GUIDE) == ["page 1: punch guide lies on wrap outline (front)"]


@pytest.mark.parametrize("name", ["MediaBox", "CropBox"])
def test_what_the_edge_of_the_page_cuts_off_is_missed(name: str) -> None:
    saved = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf(page(wrap())))) as document:
        document.pages[0].obj[f"/{name}"] = pikepdf.Array([0, 0, 400, 595])  # 141 mm, and the covering ends at 30 + 135
        document.save(saved)
    assert disagreements(saved.getvalue()) == ["wrap outline (front): the pages that it stands on do not show all of it"]


@pytest.mark.parametrize(
    "clip", ["0 0 400 100 re W n", "0 0 m 400 0 l 400 100 l 0 100 l h W n", "0 0 400 50 re 0 50 400 50 re W* n"]
)
def test_what_a_clip_cuts_off_is_missed(clip: str) -> None:
    data = pdf(bars() + f"q {clip} {placed(wrap())} Q")
    assert disagreements(data) == ["wrap outline (front): the pages that it stands on do not show all of it"]
    whole = clip.replace("400", "600").replace("100", "800").replace("50", "400")
    assert verify_pack((WRAP,), pdf(bars() + f"q {whole} {placed(wrap())} Q")).parts == 5


def test_bars_that_are_cut_off_are_missed() -> None:
    assert disagreements(pdf(f"q 0 0 100 900 re W n {bars()} Q " + placed(wrap()))) == ["page 1: bar across is not all shown"]


def test_what_lies_off_the_page_is_missed() -> None:
    assert disagreements(pdf(page(wrap(), "1 0 0 1 530 40"))) == [
        "wrap outline (front): the pages that it stands on do not show all of it"
    ]


SMALL = Layout("board outline", "small", (outline("board", "cut", ((0, 0), (50, 0), (50, 70), (0, 70))),))
LARGE = Layout("board outline", "large", (outline("board", "cut", ((0, 0), (60, 0), (60, 70), (0, 70))),))
BOTH = Layout("board outline", "both", (*SMALL.parts, rule("crease", "fold", (0, 5), (50, 5))))


def board(width: str, row: int = 0) -> str:
    """A board, 80 mm higher on the page with each row."""
    return part(f"0 {80 * row} {width} 70 re S", "board", "cut", "board outline")


def test_layouts_with_the_same_names_are_told_apart_by_shape() -> None:
    crease = part("0 165 m 50 165 l S", "crease", "fold", "board outline")
    data = pdf(page(board("60") + board("50", 1) + board("50", 2) + crease, plate="board outline"))
    assert verify_pack((SMALL, LARGE, BOTH), data).parts == 6
    said = disagreements(pdf(page(board("60") + board("60", 1), plate="board outline")), SMALL, LARGE)
    assert said == ["board outline (small): it is in the plan but on no page"]
    narrow = disagreements(pdf(page(board("59") + board("50", 1), plate="board outline")), SMALL, LARGE)
    assert narrow == ["page 1, board outline: board (cut) is 0.5000 mm from the plan"]  # 1 mm, shared by both sides


def test_two_layouts_of_one_shape_need_two_prints() -> None:
    twin = Layout("board outline", "twin", SMALL.parts)
    assert verify_pack((SMALL, twin), pdf(page(board("50") + board("50", 1), plate="board outline"))).parts == 4
    assert disagreements(pdf(page(board("50"), plate="board outline")), SMALL, twin) == [
        "board outline (twin): it is in the plan but on no page"
    ]


# The bars


def test_bars_of_99_millimetres() -> None:
    short = "280.629921260"  # 99 x 72 / 25.4
    said = disagreements(pdf(bars(across=short, along=short) + placed(wrap(), "0.99 0 0 0.99 30 40")))
    assert said == [
        "page 1: bar across reaches 99.0000 mm across the page, not 100.0000 mm",
        "page 1: bar along reaches 99.0000 mm along the page, not 100.0000 mm",
    ]


def test_a_page_of_words_needs_its_bars_too() -> None:
    data = pdf(page(wrap()), bars("steps"), part(f"0 0 m {BAR_PT} 0 l S", "bar across", "bar", "steps"))
    assert disagreements(data) == ["page 3: bar along is not drawn; it must stand there once"]
    doubled = pdf(bars() + bars() + placed(wrap()))
    assert "page 1: bar across is drawn 2 times; it must stand there once" in disagreements(doubled)


def test_a_bar_of_another_line_or_direction() -> None:
    data = pdf(page(wrap()).replace("(bar across) /Line /bar", "(bar across) /Line /cut"))
    assert disagreements(data) == ["page 1: the line of bar across is 'cut', not 'bar'"]
    upright = pdf(page(wrap()).replace(f"0 0 m {BAR_PT} 0 l S", f"0 0 m 0 {BAR_PT} l S"))
    said = "page 1: bar across reaches 0.0000 mm across the page and 100.0000 mm the other way, not 100.0000 mm"
    assert disagreements(upright) == [said]


def test_readings_of_an_earlier_print() -> None:
    # 101 and 98 read: printed 100 x 100/101 = 99.00990 and 100 x 100/98 = 102.04082 mm long, all content with it
    data = pdf(f"q 0.9900990099 0 0 1.0204081633 0 0 cm {page(wrap(), '0.8 0.6 -0.6 0.8 120 5')} Q")
    assert verify_pack((WRAP,), data, Size(101, 98)).largest_difference < 0.0001
    assert disagreements(data) == [
        "page 1: bar across reaches 99.0099 mm across the page, not 100.0000 mm",
        "page 1: bar along reaches 102.0408 mm along the page, not 100.0000 mm",
    ]


def test_bars_scaled_but_not_the_rest() -> None:
    data = pdf(f"q 0.9900990099 0 0 0.9900990099 0 0 cm {bars()} Q {placed(wrap())}")
    assert any("front covering" in said for said in disagreements(data, readings=Size(101, 101)))


SCALE = Layout(
    "scale page",
    "",
    (
        rule("bar across", "bar", (0, 0), (100, 0)),
        rule("bar along", "bar", (0, 0), (0, 100)),
        rule("diagonal bar 1", "bar", (20, 20), (90, 110)),
    ),
)


def test_bars_that_belong_to_a_layout_are_compared_with_it() -> None:
    diagonal = placed(part("20 20 m 90 110 l S", "diagonal bar 1", "bar", "scale page"), "1 0 0 1 0 0")
    assert verify_pack((SCALE,), pdf(bars("scale page") + diagonal, bars("steps"))).parts == 5
    moved = diagonal.replace("20 20 m 90 110 l", "20.1 20 m 90.1 110 l")
    assert any("diagonal bar 1" in said for said in disagreements(pdf(bars("scale page") + moved), SCALE))


def test_what_cannot_be_read_is_no_disagreement() -> None:
    with pytest.raises(BadFile):
        verify_pack((WRAP,), b"plums")
