"""A font of somebody's own, for letters that the built-in one lacks: chosen, measured, embedded, and refused."""

from __future__ import annotations

import gc
import io
import struct
import weakref
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from pathlib import Path

import pdfplumber
import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookplates.errors import BadSpec
from bookplates.letters import (
    FONT_NAMES,
    SecondFont,
    UnfitFont,
    missing,
    read_font,
    runs,
    second_font,
    shortened,
    unshaped,
    width,
    wrap,
)
from bookplates.pipeline import make_pack, plan, problems_of, verify
from commands import bookplates
from fonts import LETTERS, collection, composite, font, holding, opened, saved, without

TITLE = "書本 Orchard ქარ ½"
MAKER = "Bindery 𠀋"


def book(name: str = "own.ttf", title: str = TITLE, maker: str = MAKER, extra: str = "") -> str:
    return f"""title = "{title}"
maker = "{maker}"
[text_block]
leaf = "100 x 150 mm"
folios = 8
[cover]
style = "taped"
[print]
font = "{name}"
{extra}"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "own.ttf").write_bytes(font())
    return tmp_path


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    place = tmp_path_factory.mktemp("packed")
    (place / "own.ttf").write_bytes(font())
    return make_pack(book(), folder=place).pdf


@cache
def boxes() -> SecondFont:
    return read_font(font())


def faults(folder: Path | None, source: str) -> list[tuple[str, str]]:
    return [(problem.where, f"{problem.what}; {problem.hint}") for problem in problems_of(source, folder)]


class TestChoice:
    def test_each_letter_is_from_the_first_font_that_has_it(self) -> None:
        with second_font(boxes()):
            assert runs("a書本 b½𠀋", bold=True) == (
                (FONT_NAMES[1], "a"),
                (boxes().name, "書本"),
                (FONT_NAMES[1], " b½"),
                (boxes().name, "𠀋"),
            )
            assert runs("Orchard") == ((FONT_NAMES[0], "Orchard"),)
            assert runs("") == ()

    def test_a_letter_of_both_fonts_is_from_the_built_in_one(self) -> None:
        with second_font(read_font(font("aé書"))):
            assert [letters for _, letters in runs("aé書é")] == ["aé", "書", "é"]

    def test_without_a_second_font_all_is_built_in(self) -> None:
        assert runs("書a") == ((FONT_NAMES[0], "書a"),)
        assert missing("書a") == "書"

    def test_it_serves_only_while_it_is_open(self) -> None:
        with second_font(boxes()):
            with second_font(None):
                assert missing("書") == "書"
            assert missing("書") == ""
        assert missing("書") == "書"

    def test_another_thread_does_not_see_it(self) -> None:
        with second_font(boxes()), ThreadPoolExecutor(1) as pool:
            assert pool.submit(missing, "書").result() == "書"
            assert missing("書") == ""

    @pytest.mark.parametrize("letters", ["שלום", "سلام", "x\u0301", "\u200b", "\t"])
    def test_what_needs_shaping_no_font_helps(self, letters: str) -> None:
        with second_font(read_font(font("書" + letters.replace("\t", "")))):
            assert set(missing(letters)) == set(unshaped(letters)) != set()

    def test_a_letter_listed_but_not_drawn_is_missing(self) -> None:
        with second_font(read_font(font("書本\u3000", empty="本\u3000"))):
            assert missing("書本") == "本"
            assert missing("書\u3000書") == ""  # a space of Chinese has nothing to draw


class TestMeasure:
    def test_a_width_is_the_sum_of_both_fonts(self) -> None:
        # a 504, m 829 thousandths of the em, a box 900: (504 + 829 + 2 x 900) x 10 / 1000 = 31.33 mm
        with second_font(boxes()):
            assert width("a書m本", 10) == pytest.approx(31.33, abs=1e-9)
            assert width("a書", 10, bold=True) == pytest.approx(5.27 + 9.0, abs=1e-9)  # bold a: 527

    def test_what_is_kept_of_one_font_does_not_serve_another(self) -> None:
        wide = opened(font())
        wide["hmtx"].metrics = dict.fromkeys(wide["hmtx"].metrics, (1200, 50))
        for other, expected in ((boxes(), 9.0), (read_font(saved(wide)), 12.0), (boxes(), 9.0)):
            with second_font(other):
                assert width("書", 10) == pytest.approx(expected, abs=1e-9)

    def test_lines_wrap_and_shorten_by_the_same_measure(self) -> None:
        with second_font(boxes()):
            # boxes of 9 mm: two and the space (2 mm) go into 29 mm with a third, 29.0; not into 28.9
            assert wrap("書書 本", 10, 29.001) == ("書書 本",)
            assert wrap("書書 本", 10, 28.9) == ("書書", "本")
            assert wrap("書書書", 10, 18.1) == ("書書", "書")
            # the ellipsis is 948 thousandths: 9.48 + 9 = 18.48 mm
            assert shortened("書書書", 10, 18.5) == "書…"


class TestPack:
    def test_readers_find_every_letter_on_every_page(self, packed: bytes) -> None:
        with pdfplumber.open(io.BytesIO(packed)) as pdf:
            for page in pdf.pages:
                assert TITLE in page.extract_text()
                assert MAKER in page.extract_text()
        document = pypdfium2.PdfDocument(packed)
        for page in document:
            text = page.get_textpage().get_text_range()
            assert TITLE in text
            assert MAKER in text

    def test_letters_stand_where_they_were_measured(self, packed: bytes) -> None:
        with pdfplumber.open(io.BytesIO(packed)) as pdf:
            chars = [char for char in pdf.pages[0].chars if char["text"] in LETTERS]
        first, second = chars[0], chars[1]
        assert (first["text"], second["text"]) == ("書", "本")
        assert second["x0"] - first["x0"] == pytest.approx(0.9 * first["size"], abs=0.01)

    def test_it_is_drawn_not_left_out(self, packed: bytes) -> None:
        """The box of a letter is 800 by 510 thousandths of the em, and black."""
        scale = 8
        with pdfplumber.open(io.BytesIO(packed)) as pdf:
            page = pdf.pages[0]
            char = next(char for char in page.chars if char["text"] == "書")
            height = page.height
        size, (x, y) = char["size"], char["matrix"][4:]
        picture = pypdfium2.PdfDocument(packed)[0].render(scale=scale).to_pil().convert("L")
        inside = picture.getpixel((int((x + 0.45 * size) * scale), int((height - y - 0.25 * size) * scale)))
        above = picture.getpixel((int((x + 0.45 * size) * scale), int((height - y - 0.6 * size) * scale)))
        assert (inside, above) == (0, 255)

    def test_every_font_is_embedded_and_a_part_only(self, packed: bytes) -> None:
        with pikepdf.open(io.BytesIO(packed)) as pdf:
            found = {str(entry.BaseFont): entry for page in pdf.pages for entry in page.Resources.Font.values()}
            assert all("/FontFile2" in entry.FontDescriptor for entry in found.values())
            own = next(entry for name, entry in found.items() if "BoxLetters" in name)
            # ISO 32000-1, 9.6.4: six capitals and a plus before the name of a part
            assert str(own.BaseFont)[1:8].isupper() and str(own.BaseFont)[7] == "+"
            part = opened(own.FontDescriptor.FontFile2.read_bytes())
        # .notdef and six letters; the built-in one's space is not taken from here
        assert part["maxp"].numGlyphs == 7

    def test_the_same_font_elsewhere_gives_the_same_bytes(self, packed: bytes, tmp_path: Path) -> None:
        (tmp_path / "own.ttf").write_bytes(font())
        assert make_pack(book(), folder=tmp_path).pdf == packed

    def test_another_font_gives_another_document(self, packed: bytes, tmp_path: Path) -> None:
        (tmp_path / "own.ttf").write_bytes(font(named="BoxLetters", leave=8))
        other = make_pack(book(), folder=tmp_path).pdf
        ids = [pikepdf.open(io.BytesIO(data)).trailer.ID[0] for data in (packed, other)]
        assert ids[0] != ids[1]

    def test_a_font_of_the_built_in_ones_name_is_kept_apart(self, tmp_path: Path) -> None:
        (tmp_path / "own.ttf").write_bytes(font(named="SourceSansPro-Bold"))
        with pdfplumber.open(io.BytesIO(make_pack(book(), folder=tmp_path).pdf)) as pdf:
            assert TITLE in pdf.pages[0].extract_text()

    def test_packs_of_different_fonts_may_be_made_at_once(self, packed: bytes, tmp_path: Path) -> None:
        sources = []
        for number in range(4):
            place = tmp_path / str(number)
            place.mkdir()
            (place / "own.ttf").write_bytes(font(leave=8 * (number % 2)))
            sources.append(place)
        with ThreadPoolExecutor(4) as pool:
            made = list(pool.map(lambda place: make_pack(book(), folder=place).pdf, sources))
        assert made[0] == made[2] == packed
        assert made[1] == made[3] != packed

    def test_a_collection_gives_its_first_font(self, tmp_path: Path) -> None:
        (tmp_path / "own.ttc").write_bytes(collection(font(), font("本")))
        assert make_pack(book("own.ttc"), folder=tmp_path).pages > 5

    def test_a_letter_put_together_from_others_is_printed(self, tmp_path: Path) -> None:
        (tmp_path / "own.ttf").write_bytes(composite({"書": "本"}))
        pdf = make_pack(book(title="書", maker=""), folder=tmp_path).pdf
        with pikepdf.open(io.BytesIO(pdf)) as document:
            found = [entry for entry in document.pages[0].Resources.Font.values() if "BoxLetters" in str(entry.BaseFont)]
            assert opened(found[0].FontDescriptor.FontFile2.read_bytes())["maxp"].numGlyphs == 3  # .notdef, the letter, its part

    def test_a_pack_can_be_held_against_its_own_spec_without_the_font(self, packed: bytes) -> None:
        assert verify(packed).verified.text.startswith("verified")

    def test_fonts_that_nobody_holds_are_let_go(self) -> None:
        read = read_font(font())
        with second_font(read):
            width("書本", 5)
        held = weakref.ref(read.font)
        del read
        gc.collect()
        assert held() is None


def unfit() -> dict[str, tuple[bytes, str]]:
    good = font()
    at = good.index(b"cmap")
    record = struct.unpack(">4sLLL", good[at : at + 16])
    beyond = good[: at + 8] + struct.pack(">LL", record[2], len(good)) + good[at + 16 :]
    return {
        "nothing": (b"", "is no TrueType font"),
        "words": (b"The quick brown fox jumps over the lazy dog. " * 40, "is no TrueType font"),
        "a PDF": (b"%PDF-1.7\n" + b" " * 200, "is no TrueType font"),
        "CFF outlines": (font(cff=True), "CFF outlines"),
        "a web font": (b"wOFF" + good[4:], "web font"),
        "a web font of the second kind": (b"wOF2" + good[4:], "web font"),
        "a collection of CFF": (collection(font(cff=True), font(cff=True)), "CFF outlines"),
        "restricted": (font(leave=2), "may not be embedded"),
        "pictures only": (font(leave=0x200), "may not be embedded"),
        "whole or not at all": (font(leave=0x104), "only whole"),
        "half": (good[: len(good) // 2], "is damaged"),
        "no outlines": (without(good, "glyf"), "no glyf outlines"),
        "no names": (without(good, "name"), "its name table is not there"),
        "no letters": (without(good, "cmap"), "its cmap table is not there"),
        "a table beyond the end": (beyond, "is damaged"),
    }


UNFIT = unfit()


class TestRefusal:
    @pytest.mark.parametrize("kind", UNFIT)
    def test_a_file_that_is_no_such_font(self, kind: str, tmp_path: Path) -> None:
        data, expected = UNFIT[kind]
        (tmp_path / "own.ttf").write_bytes(data)
        ((where, what),) = faults(tmp_path, book())
        assert where == "print.font"
        assert what.startswith("'own.ttf' ")
        assert expected in what

    @pytest.mark.parametrize(
        ("name", "expected"),
        [
            ("other.ttf", "'other.ttf' is not there"),
            ("", "is empty"),
            (".", "'.' is a folder"),
            ("/dev/null", "is no file"),
            ("own.ttf/x", "is not there"),
            ("x" * 300, "cannot be read (file name too long)"),
            ("nul\\u0000.ttf", "is not there"),
        ],
    )
    def test_a_name_that_leads_nowhere(self, name: str, expected: str, folder: Path) -> None:
        ((where, what),) = faults(folder, book(name))
        assert where == "print.font"
        assert expected in what

    def test_a_file_too_large(self, tmp_path: Path) -> None:
        with (tmp_path / "own.ttf").open("wb") as file:
            file.truncate(64 * 1024 * 1024 + 1)
        assert faults(tmp_path, book()) == [("print.font", "'own.ttf' is too large; 64 MiB at most")]

    def test_a_value_that_is_no_text(self, folder: Path) -> None:
        assert faults(folder, book().replace('"own.ttf"', "7")) == [("print.font", "7 is of the wrong kind; text in quotes")]

    def test_a_path_from_the_root_does(self, folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
        elsewhere = tmp_path_factory.mktemp("elsewhere")
        assert faults(elsewhere, book(str(folder / "own.ttf"))) == []

    def test_without_a_folder_none_is_taken(self, folder: Path) -> None:
        for name in ("own.ttf", str(folder / "own.ttf")):
            ((where, what),) = faults(None, book(name))
            assert where == "print.font"
            assert "not from standard input or out of a pack" in what

    def test_all_is_told_at_once(self, folder: Path) -> None:
        (folder / "own.ttf").write_bytes(font(leave=2))
        (folder / "book.toml").write_text(book(extra='overlap = "1 m"').replace("folios = 8", 'folios = "eight"'))
        ran = bookplates("make", "book.toml", cwd=folder)
        assert ran.code == 1
        assert [line.split(": ")[:2] for line in ran.lines] == [
            ["book.toml:5", "text_block.folios"],
            ["book.toml:9", "print.font"],
            ["book.toml:10", "print.overlap"],
        ]
        assert {path.name for path in folder.iterdir()} == {"book.toml", "own.ttf"}

    def test_a_letter_that_neither_has_is_named(self, folder: Path) -> None:
        ((where, what),) = faults(folder, book(title="書画"))
        assert where == "title"
        assert "the printed fonts lack: 画 (cjk unified ideograph-753b)" in what
        assert "書" not in what

    def test_without_the_key_a_font_is_hinted_at(self) -> None:
        source = book().replace('font = "own.ttf"', "")
        hints = dict(faults(None, source))
        assert hints.keys() == {"title", "maker"}
        assert all("print.font" in hint for hint in hints.values())

    def test_letters_that_need_shaping_are_refused_with_a_font_too(self, folder: Path) -> None:
        (folder / "own.ttf").write_bytes(font("שלום"))
        ((where, what),) = faults(folder, book(title="שלום", maker=""))
        assert where == "title"
        assert "from left to right" in what

    def test_a_key_misspelt_is_told_alone(self, folder: Path) -> None:
        ((where, what),) = faults(folder, book().replace("font =", "fonts ="))
        assert (where, what) == ("print.fonts", "'fonts' is no key of [print]; the nearest is font")


class TestPlan:
    @pytest.mark.parametrize("name", ["missing.ttf", "."])
    def test_a_bad_font_is_only_warned_of(self, name: str, folder: Path) -> None:
        worked_out = plan(book(name), folder)
        assert [warning.where for warning in worked_out.warnings] == ["print.font"]
        assert worked_out.title == TITLE

    def test_nor_does_it_matter_where_no_folder_is_known(self) -> None:
        assert [warning.where for warning in plan(book()).warnings] == ["print.font"]

    def test_a_good_one_is_not_warned_of(self, folder: Path) -> None:
        assert plan(book(), folder).warnings == ()

    def test_other_faults_of_print_do_not_hide_it(self, folder: Path) -> None:
        worked_out = plan(book(extra='overlap = "1 m"'), folder)
        assert [warning.where for warning in worked_out.warnings] == ["print.overlap"]

    def test_letters_that_need_shaping_stay_refused(self, folder: Path) -> None:
        with pytest.raises(BadSpec, match="left to right"):
            plan(book("missing.ttf", title="שלום"), folder)


class TestCommands:
    def test_the_path_counts_from_the_specs_folder(self, folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
        (folder / "book.toml").write_text(book())
        elsewhere = tmp_path_factory.mktemp("elsewhere")
        ran = bookplates("make", folder / "book.toml", "-o", "out.pdf", cwd=elsewhere)
        assert (ran.code, ran.err) == (0, "")
        assert (elsewhere / "out.pdf").read_bytes()[:5] == b"%PDF-"

    def test_standard_input_takes_none(self, folder: Path) -> None:
        ran = bookplates("make", "-", "-o", "out.pdf", given=book().encode(), cwd=folder)
        assert ran.code == 1
        assert ran.err.startswith("-:9: print.font: a font goes only with a spec that is read from its own file")
        ran = bookplates("plan", "-", given=book().encode(), cwd=folder)
        assert ran.code == 0
        assert ran.err.startswith("-:9: warning: print.font: ")


GOOD = font()


def taken(data: bytes) -> None:
    """A font is read or refused in plain words; what it is then said to have can be embedded."""
    try:
        read = read_font(data)
    except UnfitFont as error:
        assert error.what and error.hint
        return
    had = [letter for letter in LETTERS if read.has(letter)]
    read.font.face.makeSubset([0, 32, *map(ord, had)])


class TestDamage:
    @given(st.binary(max_size=400))
    def test_random_bytes(self, data: bytes) -> None:
        taken(data)

    @given(st.binary(max_size=400))
    def test_random_bytes_behind_a_true_beginning(self, data: bytes) -> None:
        taken(b"\0\1\0\0" + data)

    @settings(max_examples=300)
    @given(st.lists(st.tuples(st.integers(0, len(GOOD) - 1), st.integers(0, 255)), min_size=1, max_size=8))
    def test_bytes_changed(self, changes: list[tuple[int, int]]) -> None:
        data = bytearray(GOOD)
        for at, value in changes:
            data[at] = value
        taken(bytes(data))

    @given(st.integers(0, len(GOOD)))
    def test_cut_short(self, length: int) -> None:
        taken(GOOD[:length])

    @pytest.mark.parametrize("last", [0x20000, 0xFFFFFFFF])
    def test_a_list_of_letters_without_end_is_not_counted_through(self, last: int) -> None:
        """A run in a cmap of format 12 that is said to go on to the last number there is."""
        run = struct.pack(">LL", 0x2000B, 0x2000B)
        assert GOOD.count(run) == 1
        data = GOOD.replace(run, struct.pack(">LL", 0x66F8, last))
        if last < 0x110000:
            assert read_font(data).has("\U00020001") is False
        else:
            with pytest.raises(UnfitFont, match="letters that there are none of"):
                read_font(data)

    @pytest.mark.parametrize("part", ["書", "本"])
    def test_a_letter_that_holds_itself_is_missing(self, part: str) -> None:
        whole = composite({"書": "ქ", "本": "ქ"})
        assert read_font(whole).has("書")
        read = read_font(holding(holding(whole, "書", part), "本", "書"))
        assert not read.has("書")
        assert read.has("ქ")

    def test_a_letter_wider_than_three_ems_is_missing(self) -> None:
        wide = opened(GOOD)
        wide["hmtx"].metrics["u66F8"] = (3001, 50)
        assert not read_font(saved(wide)).has("書")

    @pytest.mark.parametrize("units", [0, 15, 16385])
    def test_an_em_of_no_size(self, units: int) -> None:
        # unitsPerEm goes from 16 to 16384 (OpenType, head table, at byte 18)
        made = opened(GOOD)
        at = GOOD.index(made.reader.tables["head"].loadData(io.BytesIO(GOOD)))
        with pytest.raises(UnfitFont):
            read_font(GOOD[: at + 18] + struct.pack(">H", units) + GOOD[at + 20 :])

    def test_letters_not_listed_by_unicode(self) -> None:
        made = opened(GOOD)
        made["cmap"].tables = [table for table in made["cmap"].tables if table.format == 4][:1]
        made["cmap"].tables[0].platformID, made["cmap"].tables[0].platEncID = 3, 3  # of the PRC
        with pytest.raises(UnfitFont, match="by Unicode"):
            read_font(saved(made))
