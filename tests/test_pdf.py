"""The PDF as readers that share no code with the program see it: pdfplumber, pikepdf, pypdfium2."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pdfplumber
import pikepdf
import pypdfium2  # type: ignore[import-untyped]  # it ships no types
import pytest

from bookplates.errors import BadSpec
from bookplates.geometry import Box, Matrix, Size
from bookplates.pages.sheets import Pack, Placement, Sheet
from bookplates.papers.printing import PageSetup
from bookplates.pdf import write_pdf
from bookplates.plates.drawing import Drawing, Label, Stroke
from drawings import SPEC, card, pack_of, sampler
from page_check import findings

A4 = PageSetup(Size(210, 297), 6)
LETTER = PageSetup(Size(215.9, 279.4), 6.35)
MM = 25.4 / 72
ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def sample() -> bytes:
    return write_pdf(pack_of(sampler(), card("tape guide", 230, 80), setup=A4))


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(data))


def curves(data: bytes, page: int = 0) -> list[dict[str, Any]]:
    """Everything painted on a page, by pdfplumber, in points from the upper left."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        drawn = pdf.pages[page]
        return [*drawn.rects, *drawn.lines, *drawn.curves]


def sizes(data: bytes, page: int = 0) -> list[tuple[float, float]]:
    """Width and height of all that is painted on a page, mm."""
    return [(float(o["x1"] - o["x0"]) * MM, float(o["bottom"] - o["top"]) * MM) for o in curves(data, page)]


def shown(data: bytes, width: float, height: float, page: int = 0, within: float = 0.0005) -> bool:
    """Whether something of this size in mm is painted on the page."""
    return any(abs(w - width) < within and abs(h - height) < within for w, h in sizes(data, page))


def marked(data: bytes, page: int = 0) -> Iterator[tuple[dict[str, str], list[str]]]:
    """The parts of a page: what each says of itself, and the operators between BDC and EMC."""
    inside: list[str] | None = None
    layered = False
    with opened(data) as pdf:
        for instruction in pikepdf.parse_content_stream(pdf.pages[page]):
            operator = str(instruction.operator)
            if operator == "BDC" and str(instruction.operands[0]) == "/OC":
                assert not layered
                layered = True
            elif operator == "BDC":
                tag, properties = instruction.operands
                assert str(tag) == "/Part"
                said, inside = {str(k): str(v) for k, v in dict(properties).items()}, []
            elif operator == "EMC" and inside is None:
                assert layered
                layered = False
            elif operator == "EMC":
                assert inside is not None
                yield said, inside
                inside = None
            elif inside is not None:
                inside.append(operator)


@pytest.mark.parametrize(
    ("setup", "box"),
    # 210 / 25.4 x 72 = 595.27559, 297 / 25.4 x 72 = 841.88976; 8.5 x 72 = 612, 11 x 72 = 792.
    [(A4, (595.27559, 841.88976)), (LETTER, (612, 792))],
)
def test_the_page_is_the_papers_size_in_points(setup: PageSetup, box: tuple[float, float]) -> None:
    with opened(write_pdf(pack_of(sampler(), setup=setup))) as pdf:
        assert [float(v) for v in pdf.pages[0].mediabox] == pytest.approx([0, 0, *box], abs=1e-4)


@pytest.mark.parametrize("setup", [A4, LETTER])
def test_outlines_and_bars_have_their_size(setup: PageSetup) -> None:
    data = write_pdf(pack_of(sampler(), setup=setup))
    assert shown(data, 50, 70)
    assert shown(data, 100, 0)
    assert shown(data, 0, 100)


def test_a_turned_plate_has_its_size_turned(sample: bytes) -> None:
    assert shown(sample, 80, 230)
    assert not shown(sample, 230, 80)


def test_any_matrix_keeps_lengths_to_a_two_thousandth_of_a_mm() -> None:
    # A turn by atan(3/4): (100, 0) goes to (80, 60). A stretch by 100/97 and 100/103 comes after it.
    drawing = Drawing("slope", "slope", (Stroke(((12.3456, 7.8), (112.3456, 7.8)), "cut", part="rule"),), Box(0, 0, 120, 120))
    turned = Placement(drawing, Matrix(0.8, 0.6, -0.6, 0.8, 41.01, 17.02))
    plain = write_pdf(Pack("Slope", "", (Sheet(Size(210, 297), "slope", (turned,)),), b""))
    assert shown(plain, 80, 60)
    corrected = write_pdf(Pack("Slope", "", (Sheet(Size(210, 297), "slope", (turned,), Size(100 / 97, 100 / 103)),), b""))
    assert shown(corrected, 82.474227, 58.252427)


def test_a_bar_read_too_short_is_drawn_longer() -> None:
    # A ruler read 99 mm across: 100 x 100 / 99 = 101.0101 mm, so that this printer makes 100 of it.
    data = write_pdf(pack_of(sampler(), setup=PageSetup(Size(210, 297), 6, Size(99, 100))))
    assert shown(data, 101.010101, 0)
    assert shown(data, 0, 100)
    assert shown(data, 50.505051, 70)
    with opened(data) as pdf:
        assert [float(v) for v in pdf.pages[0].mediabox] == pytest.approx([0, 0, 595.27559, 841.88976], abs=1e-4)


def test_every_part_names_itself_and_holds_only_its_path(sample: bytes) -> None:
    parts = list(marked(sample))
    said = [(part["/Plate"], part["/Name"], part["/Line"]) for part, _ in parts]
    assert said == [
        ("sampler", "front board", "/cut"),
        ("sampler", "fold rule", "/fold"),
        ("sampler", "place rule", "/place"),
        ("sampler", "centre rule", "/centre"),
        ("sampler", "station 1", "/hole"),
        ("tape guide", "tape guide card", "/cut"),
        ("sampler", "bar across", "/bar"),
        ("sampler", "bar along", "/bar"),
    ]
    painted = {part["/Name"]: operators for part, operators in parts}
    assert painted["front board"] == ["m", "l", "l", "l", "h", "S"]
    assert painted["station 1"] == ["m", "c", "c", "c", "c", "h", "S"]
    assert painted["bar across"] == ["m", "l", "S"]


def test_a_hole_is_a_circle_of_four_curves() -> None:
    with opened(write_pdf(pack_of(sampler(), setup=A4))) as pdf:
        steps = [
            (str(i.operator), [float(v) for v in i.operands])
            for i in pikepdf.parse_content_stream(pdf.pages[0])
            if str(i.operator) in "mc"
        ]
    first = next(i for i, (operator, _) in enumerate(steps) if operator == "c")
    ends = [values[-2:] for _, values in steps[first - 1 : first + 4]]
    assert ends == [pytest.approx(p) for p in ([41, 60], [40, 61], [39, 60], [40, 59], [41, 60])]
    start = steps[first - 1][1]
    for _, (x1, y1, x2, y2, x3, y3) in steps[first : first + 4]:
        # Half way along a Bezier curve lies (start + 3 first + 3 second + end) / 8; a circle of radius 1 to 0.03 %.
        middle = (start[0] + 3 * x1 + 3 * x2 + x3) / 8, (start[1] + 3 * y1 + 3 * y2 + y3) / 8
        assert np.hypot(middle[0] - 40, middle[1] - 60) == pytest.approx(1, abs=3e-4)
        start = [x3, y3]


@pytest.mark.parametrize("name", ["front (left) board \\ 2", "couverture à plat ½", "okładka", ")("])
def test_odd_names_come_through_whole(name: str) -> None:
    rule = Stroke(((0, 0), (40, 0)), "cut", part=name)
    data = write_pdf(pack_of(Drawing(name, name, (rule,), Box(0, 0, 40, 5)), setup=A4))
    assert next((part["/Plate"], part["/Name"]) for part, _ in marked(data)) == (name, name)
    with opened(data) as pdf:
        assert [entry.title for entry in pdf.open_outline().root] == [name]


def test_lines_are_told_apart_without_colour(sample: bytes) -> None:
    with pdfplumber.open(io.BytesIO(sample)) as pdf:
        drawn = pdf.pages[0].lines
    long_ones = [line for line in drawn if abs(float(line["x1"] - line["x0"]) * MM - 50) < 0.001]
    looks = [
        (line["dash"], round(line["linewidth"], 3), line["stroking_color"]) for line in sorted(long_ones, key=lambda o: -o["top"])
    ]
    assert len(looks) == 7
    assert len({str(look) for look in looks}) == 7
    fold, place, centre = (look[0][0] for look in looks[:3])
    # ISO 128: long dash and two dots; dashes alike; long dash and one dot.
    assert (len(fold), len(place), len(centre)) == (6, 2, 4)


def test_words_stand_where_they_were_put() -> None:
    with pdfplumber.open(io.BytesIO(write_pdf(pack_of(sampler(), setup=A4)))) as pdf:
        page = pdf.pages[0]
        words = {word["text"]: word for word in page.extract_words()}
        chars = [char for char in page.chars if "Bold" in char["fontname"] and not char["upright"]]
    assert {"head", "½", "→", "Łódź", "tail", "Orchard", "notebook", "Quince", "100"} <= set(words)
    # The plate's corner lies 17 mm from the left, 221 from the foot (291 - 70). "tail" ends at 46; the middle of "head ..."
    # is at 25.
    assert float(words["tail"]["x1"]) * MM == pytest.approx(17 + 46, abs=0.01)
    centre = (float(words["head"]["x0"]) + float(words["Łódź"]["x1"])) / 2 * MM
    assert centre == pytest.approx(17 + 25, abs=0.01)
    # "spine" reads upwards and ends 50 above the plate's foot: 297 - 221 - 50 = 26 mm from the paper's top.
    assert "".join(char["text"] for char in chars) in ("spine", "enips")
    assert min(float(char["top"]) for char in chars) * MM == pytest.approx(26, abs=0.01)


def test_every_font_is_embedded_and_a_subset(sample: bytes) -> None:
    with opened(sample) as pdf:
        fonts = [font for page in pdf.pages for font in page.resources["/Font"].values()]
        assert fonts
        for font in fonts:
            assert "/FontFile2" in font["/FontDescriptor"]
            assert "+SourceSansPro-" in str(font["/BaseFont"])
            assert "/ToUnicode" in font
    assert b"Helvetica" not in sample


def test_letters_beyond_one_subset_are_all_printed() -> None:
    letters = [chr(code) for code in (*range(0xC0, 0x17F), *range(0x391, 0x3A2), *range(0x410, 0x450))]
    items = tuple(Label("".join(letters[i : i + 40]), (0, 100 - i / 4), 3) for i in range(0, len(letters), 40))
    data = write_pdf(pack_of(Drawing("letters", "letters", items, Box(0, 0, 120, 110)), setup=A4))
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert set(letters) <= {char["text"] for char in pdf.pages[0].chars}


def test_letters_without_a_glyph_are_refused_and_named() -> None:
    drawing = Drawing("spacer", "spacer", (Label("pear 🍐", (0, 0), 3),), Box(0, 0, 30, 5))
    with pytest.raises(BadSpec, match=r"U\+1F350"):
        write_pdf(pack_of(drawing, setup=A4))


def test_the_document_is_a_valid_one_and_speaks_for_itself(sample: bytes) -> None:
    assert sample.startswith(b"%PDF-1.7")
    with opened(sample) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert pdf.pdf_version == "1.7"
        root, info = pdf.Root, pdf.docinfo
        assert str(root.Lang) == "en-GB"
        assert str(info.Title) == "Orchard notebook"
        assert str(info.Author) == "Quince Street Bindery"
        assert "100 %" in str(info.Subject)
        assert "/CreationDate" not in info
        assert "/ModDate" not in info
        assert not any("anonymous" in str(value) or "unspecified" in str(value) for value in info.values())


def test_an_unnamed_maker_is_no_author() -> None:
    with opened(write_pdf(pack_of(sampler(), setup=A4, maker="", title="Łąka ½"))) as pdf:
        assert str(pdf.docinfo.Author) == ""
        assert str(pdf.docinfo.Title) == "Łąka ½"


def test_the_whole_of_a_long_title_is_in_the_documents_title() -> None:
    title = "Everything that was ever found in the tide pools north of the long breakwater, " * 4
    with opened(write_pdf(pack_of(sampler(), setup=A4, title=title))) as pdf:
        assert str(pdf.docinfo.Title) == title


def test_the_viewer_is_told_to_print_at_true_size(sample: bytes) -> None:
    with opened(sample) as pdf:
        preferences = pdf.Root.ViewerPreferences
        assert str(preferences.PrintScaling) == "/None"
        assert [str(name) for name in preferences.Enforce] == ["/PrintScaling"]
        assert bool(preferences.PickTrayByPDFSize) is True
        assert str(preferences.Duplex) == "/Simplex"


def test_pages_are_labelled_and_in_the_outline() -> None:
    data = write_pdf(pack_of(sampler(), card("tape guide", 180, 250), card("spacer", 12, 60), setup=A4))
    with opened(data) as pdf:
        assert [page.label for page in pdf.pages] == ["1", "2"]
        pages = {page.obj.objgen: number for number, page in enumerate(pdf.pages, 1)}
        links = [(entry.title, entry.to_dictionary_object(pdf)["/Dest"]) for entry in pdf.open_outline().root]
        entries = [(title, pages[place[0].objgen]) for title, place in links]
    assert entries == [("sampler, front", 1), ("spacer", 1), ("tape guide", 2)]


def test_a_plate_that_comes_again_is_in_the_outline_again() -> None:
    cards = [card(name, 180, 250) for name in ("board outline", "board outline", "spacer", "board outline")]
    pack = pack_of(*cards, setup=A4)
    with pikepdf.open(io.BytesIO(write_pdf(pack))) as pdf, pdf.open_outline() as outline:
        found = [(mark.title, pdf.pages.index(pikepdf.Page(mark.destination[0]))) for mark in outline.root]
    assert found == [("board outline", 0), ("spacer", 2), ("board outline", 3)]


def test_the_spec_is_attached_byte_for_byte(sample: bytes) -> None:
    with opened(sample) as pdf:
        assert list(pdf.attachments) == ["spec.toml"]
        described = pdf.attachments["spec.toml"]
        assert described.get_file().read_bytes() == SPEC
        assert described.get_file().mime_type == "application/toml"
        assert str(described.obj.AFRelationship) == "/Source"


@pytest.mark.parametrize("spec", [b"", b"\xef\xbb\xbftitle = 'x'", bytes(range(256)) * 8, b"endstream\nendobj\n"])
def test_any_bytes_can_be_attached(spec: bytes) -> None:
    pack = pack_of(sampler(), setup=A4)
    with opened(write_pdf(Pack(pack.title, pack.maker, pack.pages, spec))) as pdf:
        assert pdf.attachments["spec.toml"].get_file().read_bytes() == spec


def ink(data: bytes, page: int = 0) -> np.ndarray[Any, Any]:
    """A page at 600 dots to the inch, True where it is dark."""
    document = pypdfium2.PdfDocument(data)
    dots: np.ndarray[Any, Any] = document[page].render(scale=600 / 72, grayscale=True).to_numpy()
    dark: np.ndarray[Any, Any] = dots.reshape(dots.shape[0], -1) < 128
    return dark


def alone(stroke: Stroke, setup: PageSetup) -> np.ndarray[Any, Any]:
    """The dark dots of a page with nothing on it but one shape, 30 mm from its left and foot."""
    drawing = Drawing("proof", "proof", (stroke,), Box(0, 0, 120, 120))
    sheet = Sheet(setup.paper, "proof", (Placement(drawing, Matrix.move(30, 30)),), setup.correction)
    return ink(write_pdf(Pack("Proof", "", (sheet,), b"")))


def extent(dark: np.ndarray[Any, Any]) -> tuple[float, float]:
    """Width and height of all dark dots, mm."""
    rows, columns = np.nonzero(dark.any(axis=1))[0], np.nonzero(dark.any(axis=0))[0]
    return (columns[-1] - columns[0] + 1) * 25.4 / 600, (rows[-1] - rows[0] + 1) * 25.4 / 600


@pytest.mark.parametrize("setup", [A4, LETTER])
def test_dots_of_a_bar_and_an_outline(setup: PageSetup) -> None:
    # A bar's end is cut square, so its dots are 100 mm long; an outline's line stands out by half of 0.35 mm all round.
    across, _ = extent(alone(Stroke(((0, 0), (100, 0)), "bar"), setup))
    assert across == pytest.approx(100, abs=0.1)
    _, along = extent(alone(Stroke(((0, 0), (0, 100)), "bar"), setup))
    assert along == pytest.approx(100, abs=0.1)
    outline = extent(alone(Stroke(((0, 0), (50, 0), (50, 70), (0, 70)), "cut", closed=True), setup))
    assert outline == pytest.approx((50 + 0.35, 70 + 0.35), abs=0.1)


def test_dots_of_a_corrected_bar() -> None:
    # 100 x 100 / 99 = 101.01 mm.
    across, _ = extent(alone(Stroke(((0, 0), (100, 0)), "bar"), PageSetup(Size(210, 297), 6, Size(99, 100))))
    assert across == pytest.approx(101.01, abs=0.1)


@pytest.mark.parametrize("setup", [A4, LETTER, PageSetup(Size(148, 210), 5), PageSetup(Size(210, 297), 6, Size(105, 105))])
def test_no_word_of_the_frame_is_struck_small_or_outside(setup: PageSetup) -> None:
    long = "Everything that was ever found in the tide pools north of the long breakwater, drawn from life"
    data = write_pdf(pack_of(card("spacer", 100, 120, title="board outline, front"), setup=setup, title=long, maker=long))
    assert findings(io.BytesIO(data)) == []


def test_the_page_check_finds_what_is_wrong() -> None:
    items = (
        Label("overprinted", (10, 50), 4),
        Label("overprinted", (11, 51.5), 4),
        Label("tiny", (10, 80), 1.5),
        Label("struck", (10, 20), 4),
        Stroke(((0, 21), (60, 21)), "cut"),
        Label("edge", (-29, 100), 4),
    )
    sheet = Sheet(Size(210, 297), "proof", (Placement(Drawing("proof", "proof", items, Box(0, 0, 60, 60)), Matrix.move(30, 30)),))
    found = findings(io.BytesIO(write_pdf(Pack("Proof", "", (sheet,), b""))))
    assert sorted(line.split()[0] for line in found) == ["outside", "overlap", "small", "struck"]


PRINT_DIGEST = """
import hashlib, sys
sys.path[:0] = sys.argv[1:]
from test_pdf import A4, card, pack_of, sampler, write_pdf
data = write_pdf(pack_of(sampler(), card("tape guide", 230, 80), setup=A4))
assert data == write_pdf(pack_of(sampler(), card("tape guide", 230, 80), setup=A4))
print(hashlib.sha256(data).hexdigest())
"""


def test_the_same_pack_gives_the_same_bytes_anywhere(tmp_path: Path) -> None:
    surroundings = [
        ({"PYTHONHASHSEED": "1", "TZ": "UTC"}, ROOT),
        ({"PYTHONHASHSEED": "4242", "TZ": "Pacific/Auckland", "SOURCE_DATE_EPOCH": "1234567890", "LC_ALL": "C"}, tmp_path),
    ]
    digests = {
        subprocess.run(
            [sys.executable, "-c", PRINT_DIGEST, str(ROOT), str(ROOT / "tests")],
            env=os.environ | extra,
            cwd=folder,
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for extra, folder in surroundings
    }
    assert len(digests) == 1
    assert len(digests.pop().strip()) == 64


def test_different_packs_have_different_identifiers() -> None:
    def identifier(title: str) -> bytes:
        with opened(write_pdf(pack_of(sampler(), setup=A4, title=title))) as pdf:
            return bytes(pdf.trailer.ID[0])

    assert identifier("Orchard notebook") == identifier("Orchard notebook")
    assert identifier("Orchard notebook") != identifier("Tide pool sketchbook")


def test_the_programs_settings_are_given_back() -> None:
    from reportlab import rl_config

    before = rl_config.useA85
    write_pdf(pack_of(sampler(), setup=A4))
    assert rl_config.useA85 == before
