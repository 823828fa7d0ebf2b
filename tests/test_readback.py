"""Parts read back from PDFs written by hand; the expected mm are worked out beside each, 72 pt being 25.4 mm."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pdfplumber
import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookplates.readback import MeasuredPart, as_json, measure_pdf
from raw_pdf import BAR_PT, CIRCLE, MM, bars, part, pdf, saved, with_forms


def only(data: bytes) -> MeasuredPart:
    """The one part of a PDF that is no scale bar."""
    (found,) = [part for part in measure_pdf(data).parts if not part.name.startswith("bar")]
    return found


def near(*points: tuple[float, float]) -> object:
    return [pytest.approx(point, abs=1e-6) for point in points]


def test_a_move_a_scale_and_a_turn_are_multiplied_in_pdf_order() -> None:
    # 18 36 moved, then doubled and turned a quarter left about the origin, then moved by 360 108:
    # (0, 0) -> (18, 36) -> (-72 + 360, 36 + 108) = (288, 144) pt = (101.6, 50.8) mm
    # (72, 0) -> (90, 36) -> (288, 288); (72, 36) -> (90, 72) -> (216, 288); (0, 36) -> (18, 72) -> (216, 144)
    found = only(pdf(f"q 0 2 -2 0 360 108 cm q 1 0 0 1 18 36 cm {part('0 0 m 72 0 l 72 36 l 0 36 l h S')} Q Q"))
    assert list(found.points) == near((101.6, 50.8), (101.6, 101.6), (76.2, 101.6), (76.2, 50.8))
    assert found.closed
    # its own width is 72 x 2 = 144 pt = 50.8 mm though it stands upright on the page
    assert (found.width, found.height) == pytest.approx((50.8, 25.4), abs=1e-6)
    assert (found.paper_width, found.paper_height) == pytest.approx((50.8, 25.4), abs=1e-6)


def test_a_plate_turned_by_any_angle_keeps_its_sizes() -> None:
    # cos 0.8, sin 0.6; (180, 0) -> (144 + 72, 108 + 36) = (216, 144) pt; (0, 90) -> (-54 + 72, 72 + 36) = (18, 108)
    found = only(pdf(f"q 0.8 0.6 -0.6 0.8 72 36 cm {part('0 0 180 90 re s')} Q"))
    assert list(found.points) == near((25.4, 12.7), (76.2, 50.8), (57.15, 76.2), (6.35, 38.1))
    assert (found.width, found.height) == pytest.approx((63.5, 31.75), abs=1e-6)  # 180 and 90 pt


def test_what_the_bars_say_is_divided_out() -> None:
    # All content is stretched by 1.02 across and 0.98 along; the plate is turned a quarter on the page.
    plate = f"q 0 1 -1 0 144 36 cm {part('0 0 144 72 re S')} Q"
    found = only(pdf(f"q 1.02 0 0 0.98 0 0 cm {bars()} {plate} Q"))
    assert (found.width, found.height) == pytest.approx((50.8, 25.4), abs=1e-6)
    # its width lies along the page: 50.8 x 0.98; its height across: 25.4 x 1.02
    assert (found.paper_width, found.paper_height) == pytest.approx((49.784, 25.908), abs=1e-6)
    # (0, 0) -> (144, 36) pt = (50.8, 12.7) mm, printed at (51.816, 12.446)
    assert found.points[0] == pytest.approx((51.816, 12.446), abs=1e-6)
    assert found.plate_points[0] == pytest.approx((50.8, 12.7), abs=1e-6)


def test_a_slanting_plate_under_unequal_stretch_keeps_its_sizes() -> None:
    # On paper the axes are no longer square to each other; on the plate they are.
    plate = f"q 0.8 0.6 -0.6 0.8 200 100 cm {part('0 0 180 90 re S')} Q"
    found = only(pdf(f"q 1.03 0 0 0.97 0 0 cm {bars()} {plate} Q"))
    assert (found.width, found.height) == pytest.approx((63.5, 31.75), abs=1e-6)


def test_each_page_has_its_own_bars() -> None:
    data = pdf("q 1.05 0 0 1.05 0 0 cm " + bars() + part("0 0 72 72 re S") + " Q", part("0 0 72 72 re S"))
    first, second = [part for part in measure_pdf(data).parts if part.line == "cut"]
    assert (first.page, second.page) == (1, 2)
    assert (first.width, first.paper_width) == pytest.approx((25.4, 26.67))  # 25.4 x 1.05
    assert (second.width, second.paper_width) == pytest.approx((25.4, 25.4))


def test_states_are_saved_and_restored() -> None:
    nested = "q 3 0 0 3 0 0 cm q 0 1 -1 0 7 7 cm Q 5 0 0 5 1 1 cm Q"
    found = only(pdf(f"q 1 0 0 1 72 0 cm {nested} {part('0 0 m 72 0 l S')} Q"))
    assert list(found.points) == near((25.4, 0), (50.8, 0))
    assert not found.closed


def test_forms_within_forms_with_a_matrix_of_their_own() -> None:
    # inner move (18, 36), outer doubled and moved (36, 0), page turned a quarter left and moved (360, 0):
    # (0, 0) -> (18, 36) -> (72, 72) -> (288, 72) pt; (36, 0) -> (54, 36) -> (144, 72) -> (288, 144)
    # (36, 18) -> (54, 54) -> (144, 108) -> (252, 144); (0, 18) -> (18, 54) -> (72, 108) -> (252, 72)
    outer = ("q /F1 Do Q", {"Matrix": pikepdf.Array([2, 0, 0, 2, 36, 0])})
    inner = ("0 0 36 18 re S", {"Matrix": pikepdf.Array([1, 0, 0, 1, 18, 36])})
    data = with_forms(f"q 0 1 -1 0 360 0 cm {part('/F0 Do')} {part('0 0 m 72 0 l S', 'crease', 'fold')} Q", outer, inner)
    covering, crease = measure_pdf(data).parts
    assert list(covering.points) == near((101.6, 25.4), (101.6, 50.8), (88.9, 50.8), (88.9, 25.4))
    assert (covering.width, covering.height) == pytest.approx((25.4, 12.7), abs=1e-6)  # 36 x 2 and 18 x 2 pt
    # no matrix of a form outlives it: (0, 0) -> (360, 0) pt, (72, 0) -> (360, 72)
    assert list(crease.points) == near((127, 0), (127, 25.4))


def test_a_form_without_resources_uses_those_of_what_draws_it() -> None:
    data = with_forms("/F0 Do", ("/F1 Do", {"Resources": None}), (part("0 0 72 36 re S"), {}))
    assert only(data).height == pytest.approx(12.7)


def test_resources_inherited_from_the_page_tree() -> None:
    document = pikepdf.open(BytesIO(with_forms("/F0 Do", (part("0 0 72 36 re S"), {}))))
    page = document.pages[0].obj
    page.Parent.Resources = page.Resources
    del page["/Resources"]
    assert only(saved(document)).height == pytest.approx(12.7)


def test_properties_by_name() -> None:
    named = pikepdf.Dictionary(Plate="tape guide", Name="tape", Line=pikepdf.Name("/place"))
    found = only(with_forms("/Part /P1 BDC 0 0 m 72 0 l S EMC", properties={"P1": named}))
    assert (found.plate, found.name, found.line) == ("tape guide", "tape", "place")


def test_names_in_other_spellings() -> None:
    # <FEFF...> is UTF-16: o umlaut is U+00F6, l is U+006C; /c#75t is /cut (ISO 32000-1, 7.3.5 and 7.9.2)
    found = only(pdf("/P#61rt << /Plate (a\\(b\\)) /Name <FEFF00F6006C> /Line /c#75t >> BDC 0 0 m 9 0 l S EMC"))
    assert (found.plate, found.name, found.line) == ("a(b)", "\u00f6l", "cut")


def test_a_hole_is_four_points() -> None:
    # radius 14 pt about (72, 72), controls 14 x 0.55228 = 7.732 pt off
    found = only(pdf(part(f"{CIRCLE} h S", "station 1", "hole", "punch guide")))
    # 86 pt = 30.338889, 72 pt = 25.4, 58 pt = 20.461111 mm
    assert list(found.points) == near((30.338889, 25.4), (25.4, 30.338889), (20.461111, 25.4), (25.4, 20.461111))
    assert found.closed
    assert (found.width, found.height) == pytest.approx((9.877778, 9.877778), abs=1e-6)  # 28 pt


def test_a_hole_begun_elsewhere_has_the_same_diameter() -> None:
    # The same circle about the origin, turned by 45 degrees before its matrix: its points no longer lie on the axes.
    r, k = 14 * 0.7071068, 7.732 * 0.7071068
    corner = [(r, r), (-r, r), (-r, -r), (r, -r)]
    path = f"{r} {r} m "
    for (x0, y0), (x1, y1) in zip(corner, corner[1:] + corner[:1], strict=True):
        # each control point lies square to the radius: (x, y) turned left is (-y, x)
        path += f"{x0 - y0 * k / r:.6f} {y0 + x0 * k / r:.6f} {x1 + y1 * k / r:.6f} {y1 - x1 * k / r:.6f} {x1} {y1} c "
    found = only(pdf(part(path + "s", "station 1", "hole")))
    assert (found.width, found.height) == pytest.approx((9.877778, 9.877778), abs=1e-4)


def test_short_curve_operators_and_a_bulge() -> None:
    # v: the first control is the current point; y: the second control is the end.
    # Heights 0 0 36 0 make y = 36 x 3 (1 - t) t2, highest at t = 2/3: 36 x 3 x 1/3 x 4/9 = 16 pt
    found = only(pdf(part("0 0 m 0 36 72 0 v S")))
    assert list(found.points) == near((0, 0), (25.4, 0))
    assert found.height == pytest.approx(16 * 25.4 / 72)
    found = only(pdf(part("0 0 m 0 36 72 0 y S")))  # (0, 36, 0, 0): the same, at t = 1/3
    assert found.height == pytest.approx(16 * 25.4 / 72)


@pytest.mark.parametrize(
    ("path", "points", "closed"),
    [
        ("0 0 m 72 0 l 72 72 l S", 3, False),
        ("0 0 m 72 0 l 72 72 l s", 3, True),
        ("0 0 m 72 0 l 72 72 l h S", 3, True),
        ("0 0 m 72 0 l 72 72 l 0 0 l S", 3, True),  # drawn back to its beginning
        ("0 0 m 72 0 l 72 72 l 0 0 l h S", 3, True),
        ("0 0 m 72 0 l 72 72 l f", 3, True),
        ("0 0 m 72 0 l 72 72 l F", 3, True),
        ("0 0 m 72 0 l 72 72 l f*", 3, True),
        ("0 0 m 72 0 l 72 72 l b", 3, True),
        ("0 0 m 72 0 l 72 72 l b*", 3, True),
        ("0 0 m 72 0 l 72 72 l B", 3, False),  # the line that can be seen is open
        ("0 0 m 72 0 l 72 72 l B*", 3, False),
        ("0 0 500 500 re W n 0 0 m 72 0 l S", 2, False),  # a clip is not seen
        ("0 0 500 500 re W* n 0 0 m 72 0 l S", 2, False),
        ("3 3 m 0 0 m 72 0 l 5 5 m S", 2, False),  # moves alone draw nothing
        ("0 0 72 36 re S", 4, True),
        ("0.2 w 1 0 0 RG [3 1] 0 d /GS gs 0 0 m 72 0 l S", 2, False),
        ("/Span << /Lang (en) >> BDC 0 0 m 72 0 l S EMC", 2, False),
        ("/Span BMC EMC 0 0 m 72 0 l S BT ET", 2, False),
    ],
)
def test_painting(path: str, points: int, closed: bool) -> None:
    found = only(pdf(part(path)))
    assert (len(found.points), found.closed) == (points, closed)


def test_only_parts_are_measured_in_the_order_of_the_content() -> None:
    others = "0 0 500 500 re S /Span BMC 1 1 m 2 2 l S EMC /Part << /MCID 0 >> BDC 0 0 m 9 9 l S EMC BT (x) Tj ET\n"
    data = pdf(others + part("0 0 m 9 0 l S", "b") + others + part("0 0 m 9 0 l S", "a"), others)
    measured = measure_pdf(data)
    assert ([part.name for part in measured.parts], measured.pages) == (["b", "a"], 2)


def test_a_pdf_without_parts_is_no_mistake() -> None:
    measured = measure_pdf(pdf("0 0 m 9 9 l S"))
    assert not measured.has_parts
    assert as_json(measured) == {"pages": 1, "parts": []}


def test_a_page_whose_content_is_empty() -> None:
    blank = BytesIO()
    with pikepdf.new() as document:
        document.add_blank_page()
        document.save(blank)
    assert measure_pdf(blank.getvalue()).pages == 1


def test_a_page_without_content() -> None:
    document = pikepdf.new()
    document.add_blank_page()
    del document.pages[0].obj["/Contents"]
    assert measure_pdf(saved(document)).pages == 1


def test_as_json() -> None:
    # 100 pt = 35.2777... mm
    measured = measure_pdf(pdf(part("0 0 m 100 0 l S", "crease", "fold", "wrap outline")))
    assert as_json(measured) == {
        "pages": 1,
        "parts": [
            {
                "page": 1,
                "plate": "wrap outline",
                "name": "crease",
                "line": "fold",
                "width": 35.277778,
                "height": 0.0,
                "paper_width": 35.277778,
                "paper_height": 0.0,
            }
        ],
    }


def test_user_unit_counts_and_page_boxes_and_rotation_do_not() -> None:
    boxes: dict[str, Any] = {
        "Rotate": 90,
        "CropBox": pikepdf.Array([50, 50, 60, 60]),
        "MediaBox": pikepdf.Array([-100, -100, 400, 400]),
    }
    found = only(pdf(part("36 72 m 72 72 l S"), UserUnit=2.0, **boxes))
    assert list(found.points) == near((25.4, 50.8), (50.8, 50.8))  # 36 x 2 = 72 pt, 72 x 2 = 144 pt
    assert found.width == pytest.approx(25.4)


matrices = st.one_of(
    st.tuples(st.floats(-200, 200), st.floats(-200, 200)).map(lambda m: (1, 0, 0, 1, *m)),
    st.tuples(st.floats(0.2, 3), st.floats(0.2, 3)).map(lambda s: (s[0], 0, 0, s[1], 0, 0)),
    st.sampled_from([(0, 1, -1, 0, 0, 0), (0.8, 0.6, -0.6, 0.8, 5, 9), (-0.28, 0.96, -0.96, -0.28, 0, 0), (-1, 0, 0, 1, 3, 0)]),
)


def written(matrix: tuple[float, ...]) -> str:
    return " ".join(f"{value:.5f}" for value in matrix)


@settings(max_examples=25, deadline=None)
@given(st.lists(matrices, min_size=1, max_size=3), st.lists(matrices, max_size=2), matrices)
def test_an_outside_reader_finds_the_same_places(page: list[object], inner: list[object], form: tuple[float, ...]) -> None:
    triangle = "10 20 m 110 20 l 10 70 l h S"
    changes = [" ".join(f"{written(m)} cm" for m in several) for several in (page, inner)]  # type: ignore[arg-type]
    numbers = pikepdf.Array([pikepdf.Object.parse(value.encode()) for value in written(form).split()])
    data = with_forms(f"q {changes[0]} q {part('/F0 Do')} Q Q", (f"q {changes[1]} {triangle} Q", {"Matrix": numbers}))
    with pdfplumber.open(BytesIO(data)) as outside:
        (seen,) = outside.pages[0].curves
    xs, ys = zip(*only(data).points, strict=True)
    ours = (min(xs), min(ys), max(xs), max(ys))
    assert ours == pytest.approx([seen[key] / 72 * 25.4 for key in ("x0", "y0", "x1", "y1")], abs=0.001)


def test_an_outside_reader_finds_the_same_circle() -> None:
    data = pdf(f"q 1.02 0 0 0.97 30 40 cm {part(CIRCLE + ' s', 'station 1', 'hole')} Q")
    with pdfplumber.open(BytesIO(data)) as outside:
        (seen,) = outside.pages[0].curves
    xs, ys = zip(*only(data).points, strict=True)
    ours = (min(xs), min(ys), max(xs), max(ys))
    assert ours == pytest.approx([seen[key] / 72 * 25.4 for key in ("x0", "y0", "x1", "y1")], abs=0.001)


def test_millimetres_and_bars_of_these_tests() -> None:
    found = only(pdf(f"q {MM} 0 0 {MM} 0 0 cm {part('0 0 m 210 0 l S')} Q"))
    assert found.width == pytest.approx(210, abs=1e-6)
    across, along = measure_pdf(pdf(bars())).parts
    assert (across.paper_width, along.paper_height) == pytest.approx((100, 100), abs=1e-6)
    assert float(BAR_PT) == pytest.approx(7200 / 25.4, abs=1e-6)
