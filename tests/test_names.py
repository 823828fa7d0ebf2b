"""Names of people, whatever their letters: on pages, in messages, and as the names of files."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookplates.letters import read_font
from bookplates.spec.taught import LONGEST_NAME, MOST_STUDENTS, name_of
from bookplates.workshop.students.names import called, file_name, lacking, printable_name
from fonts import font

RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))}
"""Names that Windows keeps for devices, with any ending: Microsoft, "Naming Files, Paths, and Namespaces"."""

ANY_NAME = st.text(max_size=400)
"""Any Unicode at all, but for halves of letters, which no file holds."""


class TestFileName:
    @pytest.mark.parametrize(
        ("number", "name", "of", "expected"),
        [
            (3, "Ana Perez", 12, "03-ana-perez.pdf"),
            (3, "Ana Pérez", 9, "3-ana-perez.pdf"),
            (7, "", 12, "07-student.pdf"),
            (7, "佐藤", 2000, "0007-student.pdf"),
            (1, "Łucja Ødegård-Weiß", 1, "1-lucja-odegard-weiss.pdf"),
            (2, "I\u0307zmir", 5, "2-izmir.pdf"),  # a capital with a dot, as two letters
            (4, "../../etc/passwd", 10, "04-etc-passwd.pdf"),
            (5, "C:\\bean.exe", 10, "05-c-bean-exe.pdf"),
            (6, "CON", 10, "06-con.pdf"),
            (6, "=1+1", 10, "06-student.pdf"),
            (8, "O'Leek, Tam.", 10, "08-o-leek-tam.pdf"),
            (9, "\N{SEEDLING} Fern \N{SEEDLING}", 10, "09-fern.pdf"),
            (9, "\ufb01eld", 10, "09-field.pdf"),  # a ligature of f and i
        ],
    )
    def test_by_hand(self, number: int, name: str, of: int, expected: str) -> None:
        assert file_name(number, name, of) == expected

    def test_three_hundred_letters(self) -> None:
        # two figures, a hyphen, sixty letters, four for the ending
        assert len(file_name(1, "a" * 300, 12)) == 2 + 1 + 60 + 4

    @given(name=ANY_NAME, number=st.integers(1, MOST_STUDENTS))
    def test_it_is_safe_on_every_system(self, name: str, number: int) -> None:
        made = file_name(number, name, MOST_STUDENTS)
        assert made.isascii()
        assert re.fullmatch(r"[a-z0-9-]+\.pdf", made)  # POSIX portable file names (IEEE 1003.1, 3.282), in small letters
        assert len(made.encode()) <= 100
        assert not made.startswith("-")
        assert "-." not in made
        assert made.split(".")[0] not in RESERVED

    @given(name=ANY_NAME)
    def test_it_never_leaves_the_folder(self, name: str) -> None:
        made = file_name(1, name, 12)
        assert PurePosixPath(made).name == PureWindowsPath(made).name == made
        assert not PureWindowsPath(made).drive
        assert (Path("packs") / made).resolve().parent == Path("packs").resolve()

    @given(names=st.lists(st.one_of(ANY_NAME, st.sampled_from(["Ana", "ana", "ANA", "Aná", "", "1", "01-ana"])), max_size=40))
    def test_no_two_are_alike(self, names: list[str]) -> None:
        made = [file_name(number, name, len(names)) for number, name in enumerate(names, 1)]
        assert len({name.casefold() for name in made}) == len(names)

    def test_files_lie_in_the_order_of_the_class(self) -> None:
        made = [file_name(number, "Zoe" if number % 2 else "Ana", 120) for number in range(1, 121)]
        assert sorted(made) == made


class TestCalled:
    def test_by_name_or_by_number(self) -> None:
        assert (called(3, "Ana Perez"), called(7, ""), called(7, " ")) == ("Ana Perez", "student 7", "student 7")


class TestNameOf:
    @pytest.mark.parametrize(
        ("written", "expected"),
        [
            ("  Ana \t Perez ", "Ana Perez"),
            ("Ana\nPerez", "Ana Perez"),
            ("Bell\a", "Bell"),
            ("\ufeff", ""),
            ("x" * 301, "x" * 300),
        ],
    )
    def test_it_is_on_one_line(self, written: str, expected: str) -> None:
        assert name_of(written) == expected

    @given(ANY_NAME)
    def test_no_control_character_is_left(self, written: str) -> None:
        name = name_of(written)
        assert not any(unicodedata.category(letter) in ("Cc", "Zl", "Zp", "Cf", "Cs") for letter in name)
        assert len(name) <= LONGEST_NAME
        assert name_of(name) == name


class TestPrintable:
    @pytest.mark.parametrize("name", ["Ana Perez", "Zoë Łęcka", "Δήμητρα", "Ольга", "=1+1", "O'Leek (Tam)"])
    def test_latin_greek_and_cyrillic_are(self, name: str) -> None:
        assert printable_name(name) == unicodedata.normalize("NFC", name)

    def test_a_mark_is_joined_to_its_letter(self) -> None:
        assert printable_name("Zoe\u0308") == "Zo\u00eb"

    @pytest.mark.parametrize(
        ("name", "letters"),
        [
            ("佐藤 Ana", "佐藤"),
            ("\u05e9\u05e8\u05d4", "\u05e9\u05e8\u05d4"),  # Hebrew, from right to left
            ("\u0645\u0631\u064a\u0645", "\u0645\u0631\u064a"),  # Arabic, one of its letters twice
            ("Fern \N{SEEDLING}", "\N{SEEDLING}"),
            ("x\u0301", "\u0301"),  # no letter of Unicode joins the two
        ],
    )
    def test_what_the_font_lacks_is_written_by_hand(self, name: str, letters: str) -> None:
        assert printable_name(name) is None
        assert lacking(name) == letters

    @pytest.mark.parametrize("name", ["", "  "])
    def test_no_name_is_written_by_hand(self, name: str) -> None:
        assert printable_name(name) is None
        assert lacking(name) == ""

    def test_a_second_font_helps(self) -> None:
        assert printable_name("書 Ana", read_font(font())) == "書 Ana"
        assert printable_name("\u05e9 Ana", read_font(font())) is None

    def test_a_long_name_is_shortened_to_what_a_maker_may_be(self) -> None:
        printed = printable_name("Ann" * 100)
        assert printed is not None
        assert len(printed) == 200
        assert printed.endswith("\N{HORIZONTAL ELLIPSIS}")

    @given(ANY_NAME)
    def test_any_name_is_printed_or_left_out(self, written: str) -> None:
        name = name_of(written)
        printed = printable_name(name)
        assert printed is None or (0 < len(printed) <= 200 and printed.isprintable())
        assert (printed is None) == (not name or bool(lacking(name)))
