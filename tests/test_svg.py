"""Plates as SVG, read back with an XML parser and held against the plan and the PDF."""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from shapely.geometry import LinearRing

from bookplates.geometry import Box, rectangle
from bookplates.kinds.parts import Layout, Part
from bookplates.pipeline import Made, Wanted, make_pack
from bookplates.plates import draw_all
from bookplates.plates.drawing import Drawing, Label, Stroke
from bookplates.readback import measure_pdf
from bookplates.svg import svg_files
from books import ALLOTMENT, ATLAS, LIGHTHOUSE, ORCHARD, TIDE_POOL
from commands import bookplates
from drawings import sampler

SAMPLES = Path(__file__).parent.parent / "sample_specs"
OF_TESTS = {"orchard": ORCHARD, "tide pool": TIDE_POOL, "allotment": ALLOTMENT, "lighthouse": LIGHTHOUSE, "atlas": ATLAS}
BOOKS = OF_TESTS | {path.stem: path.read_text(encoding="utf-8") for path in sorted(SAMPLES.glob("*.toml"))}
SVG = "{http://www.w3.org/2000/svg}"
GROUPS_OF = {
    "cut": {"cut", "corners"},
    "fold": {"fold"},
    "place": {"place"},
    "centre": {"centre"},
    "hole": {"holes", "pricks"},
    "bar": {"bars"},
}
COMMANDS = re.compile(r"M -?[\d.]+ -?[\d.]+( L -?[\d.]+ -?[\d.]+)*( Z)?")

Point = tuple[float, float]


@dataclass(frozen=True)
class Read:
    """A part as the SVG has it; y already turned upwards, from the drawing's foot."""

    plate: str
    name: str
    line: str
    group: str
    points: tuple[Point, ...]
    closed: bool


@cache
def made(book: str) -> Made:
    return make_pack(BOOKS[book], Wanted(svg=True))


def trees(book: str) -> dict[str, ET.Element]:
    return {file.name: ET.fromstring(file.data) for file in made(book).svg}


def size(root: ET.Element) -> tuple[float, float]:
    across, along = (re.fullmatch(r"([\d.]+)mm", root.attrib[name]) for name in ("width", "height"))
    assert across
    assert along
    return float(across[1]), float(along[1])


def points_of(shape: ET.Element, high: float) -> tuple[tuple[Point, ...], bool]:
    if shape.tag == f"{SVG}circle":
        x, y, r = (float(shape.attrib[name]) for name in ("cx", "cy", "r"))
        return ((x + r, high - y), (x, high - y + r), (x - r, high - y), (x, high - y - r)), True
    assert COMMANDS.fullmatch(shape.attrib["d"])
    numbers = [float(word) for word in re.findall(r"-?[\d.]+", shape.attrib["d"])]
    return tuple((x, high - y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)), shape.attrib["d"].endswith("Z")


def read(root: ET.Element) -> list[Read]:
    high = size(root)[1]
    return [
        Read(
            shape.attrib["data-plate"],
            shape.attrib["data-name"],
            shape.attrib["data-line"],
            group.attrib["id"],
            *points_of(shape, high),
        )
        for group in root.findall(f"{SVG}g")
        for shape in group
        if "data-name" in shape.attrib
    ]


def keys(parts: list[Read] | tuple[Part, ...]) -> Counter[tuple[str, str]]:
    return Counter((part.name, part.line) for part in parts)


def off(layout: Layout, parts: list[Read]) -> float:
    """How far the parts are from the layout, mm, their first points laid together: no turn, no turning over."""
    if keys(layout.parts) != keys(parts):
        return math.inf
    order = [part for planned in layout.parts for part in parts if (part.name, part.line) == (planned.name, planned.line)]
    if len(order) != len(parts):
        order = parts  # several of one name: they are drawn in the plan's order
    planned = [point for part in layout.parts for point in part.points]
    drawn = [point for part in order for point in part.points]
    if len(planned) != len(drawn):
        return math.inf
    dx, dy = drawn[0][0] - planned[0][0], drawn[0][1] - planned[0][1]
    return max(math.dist((x + dx, y + dy), at) for (x, y), at in zip(planned, drawn, strict=True))


@pytest.mark.parametrize("book", BOOKS)
class TestEveryBook:
    def test_each_layout_of_the_plan_is_one_file_to_a_thousandth_of_a_mm(self, book: str) -> None:
        left = {name: read(root) for name, root in trees(book).items()}
        for layout in made(book).plan.layouts:
            if layout.parts:
                nearest = min(left, key=lambda name: off(layout, left[name]))
                assert off(layout, left[nearest]) < 0.001, (layout.plate, layout.title)
                assert {part.plate for part in left.pop(nearest)} == {layout.plate}
        assert left == {}

    def test_the_parts_are_as_large_as_in_the_pdf(self, book: str) -> None:
        in_pdf = {}
        for part in measure_pdf(made(book).pdf).parts:
            in_pdf.setdefault((part.plate, part.name, part.line), []).append(sorted((part.width, part.height)))
        for root in trees(book).values():
            for part in read(root):
                xs, ys = zip(*part.points, strict=True)
                here = sorted((max(xs) - min(xs), max(ys) - min(ys)))
                assert any(here == pytest.approx(there, abs=0.002) for there in in_pdf[part.plate, part.name, part.line]), (
                    part.name
                )

    def test_outlines_run_the_way_they_run_in_the_plan(self, book: str) -> None:
        for root in trees(book).values():
            outlines = [part for part in read(root) if part.closed]
            assert all(LinearRing(part.points).is_ccw for part in outlines if part.line == "cut"), root.attrib

    def test_a_unit_is_a_millimetre_and_everything_lies_within(self, book: str) -> None:
        for root in trees(book).values():
            across, along = size(root)
            assert [float(word) for word in root.attrib["viewBox"].split()] == [0, 0, across, along]
            points = [
                point
                for shape in root.iter()
                if shape.tag in (f"{SVG}path", f"{SVG}circle")
                for point in points_of(shape, along)[0]
            ]
            assert all(0 <= x <= across and 0 <= y <= along for x, y in points)

    def test_classes_of_line_are_groups_and_nothing_else_is_in_them(self, book: str) -> None:
        for root in trees(book).values():
            ids = [group.attrib["id"] for group in root.findall(f"{SVG}g")]
            assert len(ids) == len(set(ids))
            assert all(part.group in GROUPS_OF[part.line] for part in read(root))
            of_parts = set().union(*GROUPS_OF.values())
            bare = [shape for group in root.findall(f"{SVG}g") if group.attrib["id"] in of_parts for shape in group]
            assert all("data-name" in shape.attrib and shape.find(f"{SVG}title") is not None for shape in bare)

    def test_everything_is_black_and_nothing_is_turned_over(self, book: str) -> None:
        for root in trees(book).values():
            for element in root.iter():
                assert {element.attrib.get("fill", "none"), element.attrib.get("stroke", "none")} <= {"black", "none"}
                assert re.fullmatch(r"(rotate\(-?[\d.]+ -?[\d.]+ -?[\d.]+\))?", element.attrib.get("transform", ""))

    def test_file_names_are_plain_and_each_its_own(self, book: str) -> None:
        names = [file.name for file in made(book).svg]
        assert all(re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*\.svg", name) for name in names)
        assert len(names) == len(set(names))


class TestOrchard:
    """The check book: boards 104.775 x 146.05 mm, turn-ins 25.4 mm, holes of 1 mm."""

    def test_its_files(self) -> None:
        names = {file.name for file in made("orchard").svg}
        assert {"scale-page.svg", "punch-guide.svg", "wrap-outline-front.svg", "wrap-outline-back.svg"} <= names
        assert not {name for name in names if name.startswith(("sizes", "steps"))}  # nothing there is at true scale

    def test_the_front_covering(self) -> None:
        (covering,) = [part for part in read(trees("orchard")["wrap-outline-front.svg"]) if part.name == "front covering"]
        xs, ys = zip(*covering.points, strict=True)
        # board 107.95 + 3.175 - 6.35 = 104.775 wide, 139.7 + 2 x 3.175 = 146.05 high; 25.4 more at one side, twice at the other
        assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((130.175, 196.85), abs=0.001)
        # the spine edge is at the right of a front piece: there no corner is cut off
        assert sorted(y for x, y in covering.points if x > max(xs) - 0.001) == pytest.approx([min(ys), max(ys)])

    def test_holes_are_circles(self) -> None:
        root = trees("orchard")["punch-guide.svg"]
        circles = [shape for shape in root.iter(f"{SVG}circle") if shape.attrib.get("data-line") == "hole"]
        assert [shape.attrib["r"] for shape in circles] == ["0.5"] * 10  # 1 mm wide; ten stations 1/2 in apart on 5 1/2 in
        heights = sorted(float(shape.attrib["cy"]) for shape in circles)
        assert [low - high for high, low in pairwise(heights)] == pytest.approx([12.7] * 9, abs=1e-4)

    def test_station_one_is_nearest_the_head(self) -> None:
        """SVG counts downwards, and the head is above."""
        root = trees("orchard")["punch-guide.svg"]
        first, last = (shape for shape in root.iter(f"{SVG}circle") if shape.attrib["data-name"] in ("station 1", "station 10"))
        assert float(first.attrib["cy"]) < float(last.attrib["cy"])

    def test_the_bars_of_the_scale_page(self) -> None:
        bars = {part.name: math.dist(*part.points) for part in read(trees("orchard")["scale-page.svg"])}
        assert bars["bar across"] == pytest.approx(100, abs=1e-4)
        assert bars["bar along"] == pytest.approx(100, abs=1e-4)
        assert bars["inch bar across"] == pytest.approx(101.6, abs=1e-4)  # 4 x 25.4

    def test_what_is_pricked_or_cut_after_gluing_stands_apart_from_what_a_machine_may_cut(self) -> None:
        groups = {part.name: part.group for part in read(trees("orchard")["wrap-outline-front.svg"])}
        assert groups["front covering"] == "cut"
        assert (groups["front head corner"], groups["front tail corner"]) == ("corners", "corners")
        assert {group for name, group in groups.items() if " prick " in name} == {"pricks"}
        stations = read(trees("orchard")["punch-guide.svg"])
        assert {part.group for part in stations if part.line == "hole"} == {"holes"}

    def test_the_gauge_of_strip_and_handle_is_cut_in_one(self) -> None:
        strip, handle = read(trees("orchard")["wrap-outline-mitre-gauge.svg"])
        assert (strip.points[0], strip.points[-1]) == (handle.points[0], handle.points[-1])
        assert not (strip.closed or handle.closed)

    def test_the_scale_page_says_nothing_of_printers(self) -> None:
        root = trees("orchard")["scale-page.svg"]
        said = " ".join(text.text or "" for text in root.iter(f"{SVG}text"))
        assert "bar across, 100 mm" in said and "print" not in said
        assert "scale of the machine" in (root.findtext(f"{SVG}desc") or "")

    def test_words_are_words(self) -> None:
        root = trees("orchard")["wrap-outline-front.svg"]
        said = [text.text for text in root.iter(f"{SVG}text")]
        assert "HEAD" in said
        assert "spine edge" in said
        texts = list(root.iter(f"{SVG}text"))
        assert all(float(text.attrib["font-size"]) >= 6 * 25.4 / 72 for text in texts)  # never under 6 pt
        assert root.attrib["font-family"].startswith("'Source Sans Pro',")
        assert root.attrib["font-family"].endswith(", sans-serif")

    def test_it_says_what_it_is(self) -> None:
        root = trees("orchard")["wrap-outline-front.svg"]
        assert root.findtext(f"{SVG}title") == "Orchard notebook: wrap outline, front"
        assert "1 mm" in (root.findtext(f"{SVG}desc") or "")

    def test_lines_are_told_apart_by_their_dashes(self) -> None:
        groups = {group.attrib["id"]: group for root in trees("orchard_year").values() for group in root.findall(f"{SVG}g")}
        dashes = {name: groups[name].attrib.get("stroke-dasharray") for name in ("cut", "fold", "place", "centre")}
        # ISO 128-2: continuous; long-dashed double-dotted; dashed; long-dashed dotted: dashes and gaps by turns
        assert dashes["cut"] is None
        assert [len(dashes[name].split()) for name in ("fold", "place", "centre")] == [6, 2, 4]


class TestPrinting:
    def test_the_printers_correction_is_not_in_it(self) -> None:
        off_by_some = make_pack(f'{ORCHARD}\n[print]\nbar_across = "98 mm"\nbar_along = "103 mm"\n', Wanted(svg=True))
        assert off_by_some.svg == made("orchard").svg

    def test_a_plate_of_several_pages_is_one_whole_drawing(self) -> None:
        on_a4 = make_pack(ATLAS.replace('"A3"', '"A4"'), Wanted(svg=True))
        (covering,) = [file for file in on_a4.svg if file.name == "wrap-outline-front.svg"]
        across, along = size(ET.fromstring(covering.data))
        assert across > 210
        assert along > 297
        (outline,) = [part for part in read(ET.fromstring(covering.data)) if part.name == "front covering"]
        assert len({part.page for part in measure_pdf(on_a4.pdf).parts if part.name == "front covering"}) > 1
        xs, ys = zip(*outline.points, strict=True)
        planned = next(piece for piece in on_a4.plan.pieces if piece.name == "front covering")
        assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((planned.width, planned.height), abs=0.001)

    def test_same_spec_same_bytes_whatever_the_hash_seed(self, tmp_path: Path) -> None:
        (tmp_path / "pool.toml").write_text(TIDE_POOL)
        for number in ("1", "2"):
            assert bookplates("make", "pool.toml", "--svg", number, cwd=tmp_path, env={"PYTHONHASHSEED": number}).code == 0
        first, second = ({path.name: path.read_bytes() for path in (tmp_path / number).iterdir()} for number in ("1", "2"))
        assert first == second == {file.name: file.data for file in made("tide pool").svg}


class TestByHand:
    def test_every_kind_of_item(self) -> None:
        (file,) = svg_files([sampler()], "Pond & <stream>")
        root = ET.fromstring(file.data)
        assert file.name == "sampler-front.svg"
        assert root.findtext(f"{SVG}title") == "Pond & <stream>: sampler, front"
        # a card of 50 x 70 mm with 1 mm round it
        assert size(root) == (52, 72)
        (outline,) = [part for part in read(root) if part.name == "front board"]
        assert outline.points == ((1, 1), (51, 1), (51, 71), (1, 71))
        (hole,) = root.iter(f"{SVG}circle")
        assert [hole.attrib[name] for name in ("cx", "cy", "r")] == ["41", "11", "1"]  # 40 + 1 across, 70 - 60 + 1 down
        spine = next(text for text in root.iter(f"{SVG}text") if text.text == "spine")
        assert spine.attrib["transform"] == "rotate(-90 5 21)"  # at (4, 50): 4 + 1, 70 - 50 + 1; SVG turns clockwise
        assert (spine.attrib["text-anchor"], spine.attrib["font-weight"]) == ("end", "bold")
        hidden = next(shape for shape in root.iter(f"{SVG}path") if shape.attrib["d"].startswith("M 1 41"))
        assert hidden.attrib["stroke-dasharray"] == "1.2 0.6"  # at y = 30: 70 - 30 + 1

    def test_names_that_would_be_the_same_are_numbered(self) -> None:
        titles = ["card", "card", "card, 2", "CARD!", "../card", "Ł", "card"]
        drawings = [
            Drawing("gauge", title, (Stroke(rectangle(0, 0, 9, 9), "cut", closed=True, part="x"),), Box(0, 0, 9, 9))
            for title in titles
        ]
        names = [file.name for file in svg_files(drawings, "Pond")]
        assert len(names) == len(set(names)) == 7
        assert names[:3] == ["gauge-card.svg", "gauge-card-2.svg", "gauge-card-2-2.svg"]
        assert all(re.fullmatch(r"[a-z0-9-]+\.svg", name) for name in names)

    def test_what_holds_no_part_is_no_file(self) -> None:
        assert svg_files([Drawing("words", "words", (Label("head", (0, 0), 3),), Box(0, 0, 9, 9))], "Pond") == ()

    def test_everything_that_a_plate_shows_is_in_it(self) -> None:
        from bookplates.papers.printing import PageSetup
        from bookplates.papers.sizes import SHEETS

        shown = draw_all(made("tide pool").plan, PageSetup(SHEETS["A4"], 6.35), ("tide guide", "tape guide"))
        for drawing, file in zip(shown, svg_files(shown, "Tide pool journal"), strict=True):
            root = ET.fromstring(file.data)
            drawn = [e for e in root.iter() if e.tag in (f"{SVG}path", f"{SVG}circle", f"{SVG}text")]
            assert len(drawn) == len(drawing.items)
            assert {text.text for text in root.iter(f"{SVG}text")} == {
                item.text for item in drawing.items if isinstance(item, Label)
            }
