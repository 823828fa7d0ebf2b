"""Which plates, which pages, and SVG beside the pack: what is asked for is made, and nothing else."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from pathlib import Path

import pdfplumber
import pikepdf
import pypdfium2
import pytest

from bookplates.errors import WrongUse
from bookplates.pages.excerpt import in_words, numbers_in
from bookplates.pipeline import Wanted, make_pack, plan
from bookplates.plates import PLATES, draw_all, plates_of
from bookplates.plates.chosen import chosen
from bookplates.readback import MeasuredPart, about, measure_pdf
from bookplates.spec.read import read_spec
from books import ORCHARD
from commands import MINIMAL, bookplates, names_in

SAMPLES = sorted((Path(__file__).parent.parent / "sample_specs").glob("*.toml"))
WHOLE = make_pack(ORCHARD)
"""The check book's pack: the pages come as they come, but its first is the scale page."""


def plates_in(data: bytes) -> set[str]:
    """Plates that parts name; that of a bar is the first of its page."""
    return {part.plate for part in measure_pdf(data).parts}


def sizes_on(parts: Sequence[MeasuredPart], plate: str) -> list[tuple[str, str, float, float]]:
    """What a plate has besides bars, in an order of its own."""
    on_plate = [part for part in parts if part.plate == plate and part.line != "bar"]
    return sorted((part.name, part.line, round(part.width, 3), round(part.height, 3)) for part in on_plate)


def text_of(data: bytes) -> list[str]:
    """The words of each page, as an outside reader finds them."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return [page.extract_text() for page in pdf.pages]


class TestPlates:
    def test_only_these_are_in_the_pack(self) -> None:
        made = make_pack(ORCHARD, Wanted(plates="punch guide,tape guide"))
        assert plates_in(made.pdf) == {"punch guide", "tape guide"}
        assert made.pages == len(text_of(made.pdf)) < WHOLE.pages
        words = " ".join(text_of(made.pdf))
        assert "punch guide" in words
        assert "tape guide" in words
        assert "wrap outline" not in words

    def test_each_alone_is_in_the_pack_as_it_is_in_the_whole(self) -> None:
        whole = measure_pdf(WHOLE.pdf).parts
        for name in plates_of(WHOLE.plan):
            alone = measure_pdf(make_pack(ORCHARD, Wanted(plates=name)).pdf).parts
            assert sizes_on(alone, name) == sizes_on(whole, name)

    def test_pages_are_counted_anew(self) -> None:
        made = make_pack(ORCHARD, Wanted(plates="steps"))
        assert all(f"page {number} of {made.pages}" in text for number, text in enumerate(text_of(made.pdf), 1))

    def test_all_of_them_are_the_whole_pack(self) -> None:
        made = make_pack(ORCHARD, Wanted(plates=",".join(reversed(plates_of(WHOLE.plan)))))
        assert (made.pdf, made.excerpt) == (WHOLE.pdf, "")

    def test_the_spec_is_attached_all_the_same(self) -> None:
        with pikepdf.open(io.BytesIO(make_pack(ORCHARD, Wanted(plates="spacer")).pdf)) as pdf:
            assert pdf.attachments["spec.toml"].get_file().read_bytes() == ORCHARD.encode()
            assert str(pdf.docinfo["/Excerpt"]) == "only spacer"

    def test_svg_has_only_these(self) -> None:
        made = make_pack(ORCHARD, Wanted(plates="punch guide, spacer", svg=True))
        assert [file.name for file in made.svg] == ["spacer.svg", "punch-guide.svg"]
        everything = {file.name: file.data for file in make_pack(ORCHARD, Wanted(svg=True)).svg}
        assert {file.name: file.data for file in made.svg}.items() <= everything.items()

    @pytest.mark.parametrize(
        "text", ["punch guide", " Punch  GUIDE ,", "punch-guide", "punch_guide,punch guide", ",,punch\tguide"]
    )
    def test_spelling_is_forgiven(self, text: str) -> None:
        assert chosen(text, WHOLE.plan) == ("punch guide",)

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("punsh guide", r"'punsh guide' is no plate; this book has: punch guide, "),
            ("fold guide", r"this book has no fold guide; this book has: "),
            ("punch guide, spacers, wrap", r"'spacers' is no plate, 'wrap' is no plate; this book has: spacer, "),
            ("", "no plate is named; this book has: scale page, sizes, "),
            (" , ", "no plate is named"),
            ("*", r"'\*' is no plate"),
        ],
    )
    def test_others_are_refused_with_those_there_are(self, text: str, said: str) -> None:
        with pytest.raises(WrongUse) as caught:
            chosen(text, WHOLE.plan)
        assert re.match(said, caught.value.sentence)
        assert all(name in caught.value.sentence for name in plates_of(WHOLE.plan))

    @pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
    def test_the_plates_that_there_are_draw_something_and_the_others_nothing(self, sample: Path) -> None:
        book, spec = plan(sample.read_bytes()), read_spec(sample.read_bytes()).spec
        assert spec is not None
        assert {drawing.plate for drawing in draw_all(book, spec.setup)} == set(plates_of(book))
        assert set(plates_of(book)) <= set(PLATES)


class TestPageNumbers:
    @pytest.mark.parametrize(
        ("text", "found"),
        [
            ("1", (1,)),
            ("2-4,7", (2, 3, 4, 7)),
            (" 2 - 4 , 7 ", (2, 3, 4, 7)),
            ("7,2-4", (2, 3, 4, 7)),  # the pack keeps its order
            ("3,3,2-3", (2, 3)),
            ("8-", (8, 9)),
            ("-2", (1, 2)),
            ("9-9", (9,)),
            ("1-9", tuple(range(1, 10))),
        ],
    )
    def test_of_nine(self, text: str, found: tuple[int, ...]) -> None:
        assert numbers_in(text, 9) == found

    @pytest.mark.parametrize(
        ("text", "said"),
        [
            ("", "'' is no range of pages"),
            ("-", "'-' is no range of pages"),
            ("2,", "'' is no range of pages"),
            ("two", "'two' is no range of pages"),
            ("2.5", "'2.5' is no range of pages"),
            ("1-2-3", "'1-2-3' is no range of pages"),
            ("1 2", "'1 2' is no range of pages"),
            ("٣", "is no range of pages"),
            ("0", "there is no page 0"),
            ("0-3", "there is no page 0"),
            ("10", "there is no page 10"),
            ("3-10", "there is no page 10"),
            ("10-", "there is no page 10"),
            ("4-2", "4-2 runs backwards"),
            ("9" * 400, "is no range of pages"),
            ("x,0", "'x' is no range of pages, there is no page 0"),
        ],
    )
    def test_what_is_none_is_refused_with_how_many_there_are(self, text: str, said: str) -> None:
        with pytest.raises(WrongUse) as caught:
            numbers_in(text, 9)
        assert said in caught.value.sentence
        assert "there are 9 pages; numbers and ranges" in caught.value.sentence

    def test_in_words(self) -> None:
        assert in_words((1, 2, 4, 6, 7, 8), 9) == "pages 1-2, 4, 6-8 of 9"


class TestPages:
    def test_these_pages_are_those_of_the_whole_pack(self) -> None:
        made = make_pack(ORCHARD, Wanted(pages="2-4,7"))
        whole = text_of(WHOLE.pdf)
        assert text_of(made.pdf) == [whole[number - 1] for number in (2, 3, 4, 7)]
        assert f"page 7 of {WHOLE.pages}" in whole[6]
        assert made.pages == 4

    def test_each_looks_as_in_the_whole_pack(self) -> None:
        made, whole = (pypdfium2.PdfDocument(data) for data in (make_pack(ORCHARD, Wanted(pages="1,9-")).pdf, WHOLE.pdf))
        for here, there in enumerate((1, *range(9, WHOLE.pages + 1))):
            assert made[here].render(scale=0.7).to_pil().tobytes() == whole[there - 1].render(scale=0.7).to_pil().tobytes()

    def test_page_labels_keep_the_numbers(self) -> None:
        """Page labels: ISO 32000-1, 12.4.2, as two other readers count them."""
        data = make_pack(ORCHARD, Wanted(pages="2-4,7")).pdf
        with pikepdf.open(io.BytesIO(data)) as pdf:
            assert [page.label for page in pdf.pages] == ["2", "3", "4", "7"]
        document = pypdfium2.PdfDocument(data)
        assert [document.get_page_label(index) for index in range(4)] == ["2", "3", "4", "7"]

    def test_the_same_spec_and_the_same_svg(self) -> None:
        made, whole = make_pack(ORCHARD, Wanted(pages="3", svg=True)), make_pack(ORCHARD, Wanted(svg=True))
        assert made.svg == whole.svg
        with pikepdf.open(io.BytesIO(made.pdf)) as pdf:
            assert pdf.attachments["spec.toml"].get_file().read_bytes() == ORCHARD.encode()
            assert str(pdf.docinfo["/Excerpt"]) == f"page 3 of {whole.pages}"

    def test_bookmarks_lead_to_pages_that_are_there(self) -> None:
        with pikepdf.open(io.BytesIO(make_pack(ORCHARD, Wanted(pages="5-7")).pdf)) as pdf, pdf.open_outline() as outline:
            assert outline.root
            assert not pdf.check_pdf_syntax()

    def test_all_of_them_are_the_whole_pack(self) -> None:
        assert make_pack(ORCHARD, Wanted(pages="1-")).pdf == WHOLE.pdf

    def test_plates_first_then_pages_of_them(self) -> None:
        made = make_pack(ORCHARD, Wanted(plates="sizes,punch guide", pages="2"))
        assert made.pages == 1
        assert made.excerpt == about(made.pdf).excerpt
        assert re.fullmatch(r"only sizes, punch guide; page 2 of \d", made.excerpt)


@pytest.fixture
def pool(tmp_path: Path) -> Path:
    (tmp_path / "pool.toml").write_bytes(MINIMAL)
    return tmp_path


class TestCommand:
    def test_svg_beside_the_pack(self, pool: Path) -> None:
        ran = bookplates("make", "pool.toml", "--svg", "drawn", cwd=pool)
        assert (ran.code, ran.err) == (0, "")
        assert names_in(pool) == {"pool.toml", "pool.pdf", "drawn"}
        written = names_in(pool / "drawn")
        assert f"drawn: {len(written)} SVG files, one unit is 1 mm" in ran.out.splitlines()
        assert written == {file.name for file in make_pack(MINIMAL, Wanted(svg=True)).svg}

    def test_the_pack_is_the_same_with_svg_and_without(self, pool: Path) -> None:
        bookplates("make", "pool.toml", "--svg", "drawn", cwd=pool)
        assert (pool / "pool.pdf").read_bytes() == make_pack(MINIMAL).pdf

    @pytest.mark.parametrize("options", [[], ["--pages", "2-3"], ["--plates", "spacer"], ["--svg", "drawn"]])
    def test_on_standard_output_is_the_pdf_alone(self, pool: Path, options: list[str]) -> None:
        ran = bookplates("make", "pool.toml", "-o", "-", *options, cwd=pool)
        assert ran.code == 0
        assert ran.raw.startswith(b"%PDF-1.7")
        assert ran.raw.rstrip().endswith(b"%%EOF")
        assert ran.err.startswith("verified: ")
        assert names_in(pool) == {"pool.toml", *options[1:2]} - {"2-3", "spacer"}

    def test_an_excerpt_says_so(self, pool: Path) -> None:
        ran = bookplates("make", "pool.toml", "--pages", "2-3", cwd=pool)
        assert re.search(r"^verified: \d+ parts, .*; an excerpt: pages 2-3 of \d+$", ran.out, re.MULTILINE)
        assert "pool-excerpt.pdf: 2 pages, print at 100 %" in ran.out

    def test_an_excerpt_without_a_name_of_its_own_leaves_the_whole_pack(self, pool: Path) -> None:
        whole = bookplates("make", "pool.toml", cwd=pool)
        before = (pool / "pool.pdf").read_bytes()
        assert whole.code == bookplates("make", "pool.toml", "--plates", "punch guide", cwd=pool).code == 0
        assert (pool / "pool.pdf").read_bytes() == before
        assert names_in(pool) == {"pool.toml", "pool.pdf", "pool-excerpt.pdf"}

    @pytest.mark.parametrize(
        ("options", "said"),
        [
            (["--plates", "no such plate"], "--plates: 'no such plate' is no plate; this book has: "),
            (["--plates", "mitre gauge"], "--plates: 'mitre gauge' is no plate; it comes with wrap outline"),
            (["--pages", "99"], "--pages: there is no page 99; there are "),
            (["--pages", "3-2"], "--pages: 3-2 runs backwards; there are "),
            (["--pages", ""], "--pages: '' is no range of pages"),
            (["--plates", ""], "--plates: no plate is named"),
            (["--svg", "-"], "--svg: several files do not go to standard output"),
            (["--svg", ""], "--svg: the name is empty"),
            (["--svg", "drawn", "--plates", "sizes, steps"], "--svg: nothing on these plates is at true scale"),
        ],
    )
    def test_wrong_use_is_2_and_makes_nothing(self, pool: Path, options: list[str], said: str) -> None:
        ran = bookplates("make", "pool.toml", *options, cwd=pool)
        assert (ran.code, ran.out) == (2, "")
        assert said in ran.err
        assert names_in(pool) == {"pool.toml"}

    @pytest.mark.parametrize(
        ("folder", "said"),
        [
            ("taken", "taken: cannot be written (it is a file, not a folder)"),
            ("no/where", "no/where: cannot be written (no such file or directory)"),
            ("drawn", "drawn/punch-guide.svg: cannot be written (it is a folder)"),
        ],
    )
    def test_what_cannot_be_written_is_1_and_leaves_everything(self, pool: Path, folder: str, said: str) -> None:
        (pool / "taken").write_bytes(b"as it was")
        (pool / "drawn" / "punch-guide.svg").mkdir(parents=True)
        (pool / "drawn" / "scale-page.svg").write_bytes(b"as it was")
        (pool / "pool.pdf").write_bytes(b"as it was")
        ran = bookplates("make", "pool.toml", "--svg", folder, cwd=pool)
        assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1)
        assert ran.err.startswith(said)
        assert names_in(pool) == {"pool.toml", "taken", "drawn", "pool.pdf"}
        assert names_in(pool / "drawn") == {"punch-guide.svg", "scale-page.svg"}
        assert all((pool / name).read_bytes() == b"as it was" for name in ("taken", "pool.pdf", "drawn/scale-page.svg"))

    def test_a_folder_that_is_there_is_used(self, pool: Path) -> None:
        (pool / "drawn").mkdir()
        (pool / "drawn" / "mine.txt").write_bytes(b"as it was")
        assert bookplates("make", "pool.toml", "--svg", "drawn/", "-o", "drawn/pool.pdf", cwd=pool).code == 0
        assert {"mine.txt", "pool.pdf", "scale-page.svg"} <= names_in(pool / "drawn")

    def test_a_refused_spec_makes_no_folder(self, pool: Path) -> None:
        (pool / "pool.toml").write_bytes(MINIMAL.replace(b"folios = 8", b"folios = 0"))
        assert bookplates("make", "pool.toml", "--svg", "drawn", cwd=pool).code == 1
        assert names_in(pool) == {"pool.toml"}
