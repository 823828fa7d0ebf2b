"""Sheets and weights, against the standards, the handbook and a reference library that shares no code with us."""

from __future__ import annotations

import papersize  # type: ignore[import-untyped]  # it ships no types
import pytest
from hypothesis import given
from hypothesis import strategies as st

import handbook
from bookplates.geometry import Size
from bookplates.lengths import NotALength
from bookplates.papers.sizes import SHEETS, read_size, sheet_size
from bookplates.papers.weights import caliper, read_weight

ISO_AND_JIS = handbook.PS1_A_MM | handbook.PS2_JIS_B_MM

# papersize's own name for each sheet that it knows. Not Executive: it says 7 x 10 in, we 7 1/4 x 10 1/2 from memory.
IN_PAPERSIZE = {
    "Letter": "letter",
    "Legal": "legal",
    "Tabloid": "tabloid",
    "Half letter": "halfletter",
    "Junior legal": "juniorlegal",
}


@pytest.mark.parametrize(("name", "size"), ISO_AND_JIS.items())
def test_iso_a_and_jis_b_as_published(name: str, size: tuple[float, float]) -> None:
    assert sheet_size(name) == size


def test_iso_b4_is_as_long_as_b3_is_wide() -> None:
    # ISO 216, by the halving rule from papersize's B3 of 353 x 500 mm: 500 / 2 = 250
    assert sheet_size("B4") == (250, 353)


def test_b5_is_two_sheets() -> None:
    assert sheet_size("B5") == handbook.PS5_ISO_B5_MM
    assert sheet_size("ISO B5") == handbook.PS5_ISO_B5_MM
    assert sheet_size("JIS B5") == handbook.PS5_JIS_B5_MM


# papersize 1.6.1 has B4 as 250 x 352, though its own B3 is 353 wide; PS4 makes B4's long side 353, as is held below.
ISO_IN_PAPERSIZE = [f"{series}{number}" for series in "ABC" for number in range(11) if (series, number) != ("B", 4)]


@pytest.mark.parametrize("name", ISO_IN_PAPERSIZE)
def test_iso_series_as_papersize_has_them(name: str) -> None:
    theirs = papersize.parse_papersize(name.lower(), "mm")
    assert sheet_size(name) == pytest.approx([float(side) for side in theirs], abs=1e-6)


@pytest.mark.parametrize(("name", "theirs"), IN_PAPERSIZE.items())
def test_american_sheets_as_papersize_has_them(name: str, theirs: str) -> None:
    sides = sorted(float(side) for side in papersize.parse_papersize(theirs, "mm"))
    assert sheet_size(name) == pytest.approx(sides, abs=0.001)  # its points are not exact


@pytest.mark.parametrize("series", ["A", "B", "C", "JIS B"])
@pytest.mark.parametrize("number", range(4))
def test_sides_keep_the_ratio_and_halve(series: str, number: int) -> None:
    # ISO 216: ratio 1.4142, each sheet half the one before; a whole mm on the smallest side here (297) is 0.5 %
    sheet, half = sheet_size(f"{series}{number}"), sheet_size(f"{series}{number + 1}")
    assert sheet.height / sheet.width == pytest.approx(handbook.PS4_RATIO, rel=0.005)
    assert half.height == sheet.width
    assert sheet.height / 2 - 1 < half.width <= sheet.height / 2


@pytest.mark.parametrize("name", handbook.PS6_ANSI_IN)
def test_ansi_sheets(name: str) -> None:
    in_inches = tuple(float(side) * 25.4 for side in handbook.PS6_ANSI_IN[name])
    assert sheet_size(name) == pytest.approx(in_inches, abs=1e-9)
    assert tuple(round(side) for side in sheet_size(name)) == handbook.PS6_ANSI_ROUNDED_MM[name]


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        ("Letter", 215.9, 279.4),  # 8.5, 11 in
        ("Half letter", 139.7, 215.9),  # 5.5, 8.5 in
        ("Junior legal", 127.0, 203.2),  # 5, 8 in
        ("Ledger", 279.4, 431.8),  # 11, 17 in
        ("Executive", 184.15, 266.7),  # 7.25, 10.5 in, from memory
        ("Craft 6 in", 152.4, 152.4),
        ("Craft 8 in", 203.2, 203.2),
        ("Craft 12 in", 304.8, 304.8),
        ("Imperial", 558.8, 762.0),  # 22, 30 in, from memory
    ],
)
def test_sheets_sold_by_the_inch(name: str, width: float, height: float) -> None:
    assert sheet_size(name) == pytest.approx((width, height), abs=1e-9)


def test_every_sheet_stands_upright_and_answers_to_its_name() -> None:
    for name, size in SHEETS.items():
        assert 0 < size.width <= size.height
        assert sheet_size(name.upper()) == sheet_size(name.replace(" ", "")) == size


def test_names_forgive_capitals_spaces_and_hyphens() -> None:
    for written in ("letter", " LETTER ", "US Letter", "us-letter"):
        assert sheet_size(written) == SHEETS["Letter"]
    assert sheet_size("half-letter") == sheet_size("HalfLetter") == SHEETS["Half letter"]


@pytest.mark.parametrize(("name", "nearest"), [("Lettr", "Letter"), ("JIS B55", "JIS B5"), ("tabliod", "Tabloid"), ("qqq", "A4")])
def test_an_unknown_sheet_is_told_the_nearest(name: str, nearest: str) -> None:
    with pytest.raises(NotALength) as refused:
        sheet_size(name)
    assert "no sheet known here" in refused.value.what
    assert nearest in refused.value.hint


@pytest.mark.parametrize(
    ("value", "width", "height"),
    [
        ("8.5 x 11 in", 215.9, 279.4),
        ("8 1/2 in x 11 in", 215.9, 279.4),
        ("8½ × 11 in", 215.9, 279.4),
        ('8 1/2" x 11"', 215.9, 279.4),
        ('8-1/2 X 11"', 215.9, 279.4),
        ("11x8.5in", 279.4, 215.9),
        ("½ x 1 in", 12.7, 25.4),
        ("210 x 297 mm", 210, 297),
        ("210 × 297", 210, 297),
        ("297mm x 21cm", 297, 210),
        ("21 x 29.7 cm", 210, 297),
        ("6 in x 100 mm", 152.4, 100),
        ("4 1/8 in +0.2 mm × 5 3/4 in", 104.975, 146.05),  # as sizes are shown
        ("Letter", 215.9, 279.4),
        ("craft 12 in", 304.8, 304.8),
        ([210, 297], 210, 297),
        (("8 1/2 in", 100), 215.9, 100),
    ],
)
def test_sizes_as_people_write_them(value: object, width: float, height: float) -> None:
    assert read_size(value, "mm") == pytest.approx((width, height), abs=1e-9)


def test_bare_sizes_count_the_users_unit() -> None:
    assert read_size("8.5 x 11", "in") == pytest.approx((215.9, 279.4), abs=1e-9)
    assert read_size([8.5, 11], "in") == pytest.approx((215.9, 279.4), abs=1e-9)
    assert isinstance(read_size([8.5, 11], "in"), Size)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("12 in", "not a size"),
        ("8 x 10 x 2 in", "not a size"),
        ("8.5 in x 11", "unit at the first number only"),
        ("8.5 x", "nothing is written here"),
        ("8,5 x 11 in", "decimal comma; write 8.5"),
        ("8 x 11 furlongs", "unknown unit"),
        ("Letter x Legal", "no sheet known here"),
        ("", "nothing is written here"),
        ("8 x 1" + "0" * 60, "too long"),
        (12, "not a size"),
        (True, "true is not a size"),
        ([1, 2, 3], "a list is not a size"),
        ([1, True], "true is not a length"),
        ({"width": 1}, "a table is not a size"),
    ],
)
def test_what_is_no_size_is_refused_in_words(value: object, said: str) -> None:
    with pytest.raises(NotALength) as refused:
        read_size(value, "mm")
    assert said in str(refused.value)
    assert refused.value.hint


@given(st.text(max_size=70) | st.text(alphabet='0123456789 x×/.,½incmABletr"', max_size=40))
def test_nonsense_is_never_worse_than_not_a_length(text: str) -> None:
    for read in (lambda: read_size(text, "in"), lambda: sheet_size(text), lambda: read_weight(text)):
        try:
            read()
        except NotALength as refused:
            assert refused.what


@pytest.mark.parametrize(("kind", "factor"), handbook.PW1_FACTORS.items())
def test_a_pound_of_each_kind_as_printwiki_has_it(kind: str, factor: float) -> None:
    # three decimals, tag cut rather than rounded (1.6275): a thousandth either way
    assert read_weight(f"1 lb {kind}") == pytest.approx(factor, abs=0.001)


@pytest.mark.parametrize("kind", handbook.PW5_FACTORS)
def test_a_pound_of_each_kind_from_the_exact_definitions(kind: str) -> None:
    assert read_weight(f"1 lb {kind}") == pytest.approx(handbook.PW5_FACTORS[kind], abs=0.00005)
    assert read_weight(f"1 lb {kind}") == pytest.approx(handbook.PW3_FACTORS[kind], abs=0.005)


def test_the_same_pounds_are_another_paper() -> None:
    for weight, about in handbook.PW6_ABOUT_G_M2.items():
        assert read_weight(weight) == pytest.approx(about, abs=0.5)


@pytest.mark.parametrize(("bond", "offset", "grammage", "inches", "mm"), handbook.PW7_EQUIVALENTS)
def test_bond_and_offset_of_one_grammage(bond: str, offset: str, grammage: float, inches: float, mm: float) -> None:
    assert read_weight(bond) == pytest.approx(grammage, abs=0.1)
    assert read_weight(offset) == pytest.approx(grammage, rel=0.02)  # "equivalents": 40 lb offset is 59.2, not 60.2
    assert caliper(read_weight(bond), 1000 * mm / grammage) == pytest.approx(inches * 25.4, abs=0.003)


def test_worked_weights() -> None:
    assert read_weight(handbook.E12_WEIGHT) == pytest.approx(handbook.E12_G_M2, abs=0.05)
    assert read_weight(handbook.E13_WEIGHT) == pytest.approx(handbook.E13_G_M2, abs=0.05)


@pytest.mark.parametrize(
    "written", ["20 lb bond", "20lb bond", "20lb. bond", "20# bond", "20 # Bond", "20.0 lbs BOND", " 20 pounds  bond"]
)
def test_weights_as_people_write_them(written: str) -> None:
    assert read_weight(written) == pytest.approx(75.194, abs=0.001)  # 20 x 453.59237 / (500 x 0.24129 m2)


def test_the_pound_is_exact() -> None:
    # 1000 x 453.59237 / (500 x 0.00064516 x 17 x 22): 453,592.37 / 120.64492 = 3,759.73
    assert read_weight("1000 lb bond") == pytest.approx(3759.73, abs=0.01)


def test_text_and_offset_are_book() -> None:
    assert read_weight("60 lb text") == read_weight("60 lb offset") == read_weight("60 lb book")


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("20 lb", "one of bond, book, cover, index, tag, bristol, text, offset"),
        ("20 lb parchment", "one of bond, book, cover"),
        ("20 lb bond paper", "one of bond"),
        ("bond", "not a weight"),
        ("20 bond", "not a weight"),
        ("-20 lb bond", "not a weight"),
        ("75 g/m2", "not a weight"),
        ("20,5 lb bond", "not a weight"),
        ("", 'nothing is written here; write it like "20 lb bond"'),
        ("2" * 61 + " lb bond", "too long"),
        (20, "20 is not a weight"),
        (True, "true is not a weight"),
    ],
)
def test_what_is_no_weight_is_refused_in_words(value: object, said: str) -> None:
    with pytest.raises(NotALength) as refused:
        read_weight(value)
    assert said in str(refused.value)


def test_caliper_is_grammage_times_bulk() -> None:
    # from memory; ISO 534 defines bulk in cm3/g: 90 g/m2 x 1.3 cm3/g = 117 um
    assert caliper(90, 1.3) == pytest.approx(0.117, abs=1e-12)
    assert caliper(100, 1.0) == pytest.approx(0.1, abs=1e-12)
