"""Widths against FreeType reading the same font files; wrapping; what cannot be printed."""

from __future__ import annotations

from importlib.util import find_spec

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from bookplates.letters import FONT_NAMES, composed, missing, register, shortened, width, wrap

WORDS = st.text(alphabet="abc dWil ½", max_size=60)


def freetype_width(text: str, size: float, bold: bool) -> float:
    """Width as FreeType measures it at 1000 units to the em, without kerning, mm."""
    package = find_spec("font_source_sans_pro")
    assert package is not None
    assert package.submodule_search_locations is not None
    path = f"{package.submodule_search_locations[0]}/files/SourceSansPro-{'Bold' if bold else 'Regular'}.ttf"
    font = ImageFont.truetype(path, 1000, layout_engine=ImageFont.Layout.BASIC)
    return sum(font.getlength(letter) for letter in text) * size / 1000


def test_a_width_is_the_sum_of_the_fonts_advances() -> None:
    # Source Sans Pro, advance widths in 1/1000 em: a 504, m 829, full stop 249; bold a 527.
    assert width("am.", 10) == pytest.approx(5.04 + 8.29 + 2.49, abs=1e-9)
    assert width("a", 4, bold=True) == pytest.approx(4 * 0.527, abs=1e-9)
    assert width("", 10) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize(
    "text", ["Orchard notebook", "5 1/2 in = 139,7 mm", "½ ⅛ ⅜ ⅝ ⅞ → × ° …", "Zażółć gęślą jaźń", "αβγδε ΩЖ"]
)
def test_widths_agree_with_freetype(text: str, bold: bool) -> None:
    assert width(text, 3.2, bold) == pytest.approx(freetype_width(text, 3.2, bold), abs=1e-6)


def test_a_letter_and_its_mark_are_as_wide_as_the_one_letter() -> None:
    assert composed("e\u0301tape") == "étape"
    assert width("e\u0301tape", 5) == pytest.approx(freetype_width("étape", 5, False), abs=1e-6)


def test_text_wraps_at_spaces_and_keeps_its_line_breaks() -> None:
    # 20 letters "a" of 3 mm are 20 x 0.504 x 3 = 30.24 mm; with three spaces of 0.2 x 3 = 0.6 mm, 32.04 mm.
    words = "aaaaa aaaaa aaaaa aaaaa"
    assert wrap(words, 3, 32.1) == (words,)
    assert wrap(words, 3, 32.0) == ("aaaaa aaaaa aaaaa", "aaaaa")
    assert wrap("one\ntwo  three", 3, 100) == ("one", "two three")
    assert wrap(" \n ", 3, 100) == ()


def test_a_word_too_long_is_broken_and_loses_nothing() -> None:
    lines = wrap("in tidepoolanemonesandhermitcrabssketchbook", 4, 25)
    assert len(lines) > 2
    assert "".join(lines).replace(" ", "") == "intidepoolanemonesandhermitcrabssketchbook"
    assert all(freetype_width(line, 4, False) <= 25 + 1e-6 for line in lines)


@given(WORDS, st.floats(4, 60), st.booleans())
def test_wrapped_lines_never_overhang(text: str, room: float, bold: bool) -> None:
    lines = wrap(text, 3, room, bold)
    assert all(freetype_width(line, 3, bold) <= room + 1e-5 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_a_room_narrower_than_a_letter_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="does not take a letter"):
        wrap("wide", 10, 2)


def test_shortened_text_fits_and_says_that_it_was_cut() -> None:
    assert shortened("Tide pool", 3, 100) == "Tide pool"
    cut = shortened("Tide pool sketchbook of the allotment class", 3, 30, bold=True)
    assert cut.endswith("…")
    assert cut.startswith("Tide pool")
    assert 24 < freetype_width(cut, 3, True) <= 30 + 1e-6
    # An ellipsis at 3 mm is 0.948 x 3 = 2.844 mm wide.
    assert shortened("Tide pool", 3, 2.85) == "…"
    with pytest.raises(ValueError, match="no room"):
        shortened("Tide pool", 3, 2.8)


@pytest.mark.parametrize("text", ["Orchard & Söhne №5", "Łódź", "½ ⅓ ⅔ ¼ ¾ ⅛ → ≥ “quoted”", "Ελληνικά", "cafe\u0301"])
def test_letters_that_can_be_printed(text: str) -> None:
    assert missing(text) == ""


@pytest.mark.parametrize(
    ("text", "lacking"),
    [
        ("tide\tpool\x07", "\t\x07"),
        ("zero\u200bwidth\u202e", "\u200b\u202e"),
        ("שלום", "שלום"),
        ("سلام", "سلام"),
        ("x\u0301", "\u0301"),
        ("果樹園", "果樹園"),
        ("pear 🍐 pear 🍐", "🍐"),
    ],
)
def test_letters_that_cannot(text: str, lacking: str) -> None:
    assert missing(text) == lacking


def test_registering_twice_leaves_one_font_of_each_name() -> None:
    from reportlab.pdfbase import pdfmetrics

    register()
    before = [pdfmetrics.getFont(name) for name in FONT_NAMES]
    register()
    assert [pdfmetrics.getFont(name) for name in FONT_NAMES] == before
