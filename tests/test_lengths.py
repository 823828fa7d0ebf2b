"""Lengths as people write and read them. Every sum in mm is typed by hand: 1 in = 25.4 mm exactly."""

from __future__ import annotations

import math
import time
from datetime import date

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from bookplates.lengths import (
    POINT,
    NotALength,
    both,
    both_sizes,
    close,
    fits,
    in_inches,
    in_mm,
    read_length,
    shown,
    unit_written,
)

WRITTEN = [
    ("5 1/2 in", 139.7),  # 5.5 x 25.4
    ("5-1/2 in", 139.7),
    ("5½ in", 139.7),
    ("5 ½ in", 139.7),
    ("5-½ in", 139.7),
    ("5\u20111/2 in", 139.7),  # a hyphen that does not break
    ("5 1\u20442 in", 139.7),  # the fraction slash
    ("5.5in", 139.7),
    ("5.5 IN", 139.7),
    ("5.5 in.", 139.7),
    ("5.5 inches", 139.7),
    ("1 inch", 25.4),
    ('5 1/2"', 139.7),
    ("5 1/2”", 139.7),
    ("5½″", 139.7),
    ("1/2 in", 12.7),
    ("½ in", 12.7),
    ("½in", 12.7),
    ("3/4 in", 19.05),
    ("¾ in", 19.05),
    ("⅓ in", 8.466666666666667),  # 25.4 / 3
    ("1⅞ in", 47.625),  # 1.875 x 25.4
    ("1 3/32 in", 27.78125),  # 1.09375 x 25.4
    ("3/2 in", 38.1),
    ("10 1 / 4 in", 260.35),
    ("140 mm", 140.0),
    ("140mm", 140.0),
    ("14 cm", 140.0),
    ("14.25cm", 142.5),
    (".5 in", 12.7),
    ("5. mm", 5.0),
    ("0 mm", 0.0),
    ("+3 mm", 3.0),
    ("-3 mm", -3.0),
    ("−3 mm", -3.0),
    ("-1 1/2 in", -38.1),
    ("-½ in", -12.7),
    ("  140   mm ", 140.0),
    ("140\u00a0mm", 140.0),  # a space that does not break
    ("5 1/2 in +0.3 mm", 140.0),  # as in_inches writes it
    ("1 in -0.02 mm", 25.38),
]


@pytest.mark.parametrize(("text", "mm"), WRITTEN)
def test_every_written_form_in_either_unit(text: str, mm: float) -> None:
    assert read_length(text, "mm") == pytest.approx(mm, abs=1e-9)
    assert read_length(text, "in") == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "mm", "from_inches"),
    [
        (2, 2.0, 50.8),
        (5.5, 5.5, 139.7),
        (-0.25, -0.25, -6.35),
        ("2", 2.0, 50.8),
        ("5 1/2", 5.5, 139.7),
        ("5½", 5.5, 139.7),
    ],
)
def test_bare_numbers_count_the_users_unit(value: object, mm: float, from_inches: float) -> None:
    assert read_length(value, "mm") == pytest.approx(mm, abs=1e-9)
    assert read_length(value, "in") == pytest.approx(from_inches, abs=1e-9)


REFUSED = [
    (True, "true is not a length"),
    (False, "false is not a length"),
    (math.nan, "nan is not a length"),
    (math.inf, "inf is not a length"),
    pytest.param(10**5000, "a number so large is not a length", id="an integer of 5,001 digits"),
    (10**7, "a number so large is too much"),
    (-1e300, "-1e+300 is too much"),
    (None, "a NoneType is not a length"),
    ([1, 2], "a list is not a length"),
    ({"head": 1}, "a table is not a length"),
    (date(2020, 5, 1), "a date is not a length"),
    ("", "nothing is written here"),
    ("  \t", "nothing is written here"),
    ("5 1/0 in", "divides by zero"),
    ("0/0 in", "divides by zero"),
    ("14,5 mm", "has a decimal comma"),
    ("1,000 mm", "has a decimal comma"),
    ("1.234,5 mm", "has commas or points between thousands"),
    ("5 ft", "has an unknown unit, 'ft'"),
    ("5'", "has an unknown unit"),
    ("5 1/2 in in", "has an unknown unit, 'in in'"),
    ("1e5 mm", "has an unknown unit"),
    ("mm", "does not begin with a number"),
    ("nan", "does not begin with a number"),
    ("-inf mm", "does not begin with a number"),
    ("about 5 in", "does not begin with a number"),
    ("- mm", "does not begin with a number"),
    ("5 5/4 in", "fraction of one or more after a whole number"),
    ("5 1/2 1/2 in", "is not a length"),
    ("5½½ in", "is not a length"),
    ("½5 in", "is not a length"),
    ("5 - 1/2 in", "is not a length"),
    ("1/2/3 in", "is not a length"),
    ("1.5/2 in", "is not a length"),
    ("--5 mm", "is not a length"),
    ("5..5 mm", "is not a length"),
    ("1_000 mm", "has an unknown unit"),
    ("٣ mm", "does not begin with a number"),
    ("5¹⁄₂ in", "has an unknown unit"),  # raised digits would run together with the 5
    ("9" * 50 + " mm", "is too much"),
    ("9" * 61, "is too long"),
]


@pytest.mark.parametrize(("value", "what"), REFUSED)
def test_what_is_no_length_is_refused_in_words(value: object, what: str) -> None:
    with pytest.raises(NotALength) as refused:
        read_length(value, "mm")
    assert what in refused.value.what
    assert refused.value.hint
    assert str(refused.value) == f"{refused.value.what}; {refused.value.hint}"


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("14,5 mm", "write 14.5"),
        ("1,000 mm", "write 1.000 (or 1000, if thousands are meant)"),
        ("1.234,5 mm", "write 1234.5"),
        ("1,234.5 mm", "write 1234.5"),
        ("1.234,567 mm", "write 1234.567"),
        ("1,234,567 mm", "write 1234567"),
        ("5 ft", 'mm, cm or in (also inch, inches, ")'),
    ],
)
def test_the_hint_says_what_to_write(text: str, hint: str) -> None:
    with pytest.raises(NotALength) as refused:
        read_length(text, "in")
    assert refused.value.hint == hint


def test_an_overlong_text_is_refused_at_once() -> None:
    begun = time.perf_counter()
    with pytest.raises(NotALength, match="is too long; at most 60 characters"):
        read_length("9" * 5_000_000, "mm")
    assert time.perf_counter() - begun < 0.5


def test_a_message_holds_no_control_characters() -> None:
    with pytest.raises(NotALength) as refused:
        read_length("5 \x1b[31m\x07", "mm")
    assert str(refused.value).isprintable()
    assert shown("a" * 100) == "'aaaaaaaaaaaaaaaaaaaa...'"


@given(st.text(max_size=70) | st.text(alphabet="0123456789 /-+.,½⅟mcin\"'″x\n", max_size=70))
@example("⅟8 in")
def test_nonsense_is_never_worse_than_not_a_length(text: str) -> None:
    try:
        assert math.isfinite(read_length(text, "in"))
    except NotALength as refused:
        assert refused.what and len(str(refused)) < 1000


@pytest.mark.parametrize(
    ("text", "unit"), [("8 1/2 in", "in"), ('8½"', '"'), ("11", ""), ("14.5mm", "mm"), ("4 in +0.3 mm", "in"), ("", "")]
)
def test_the_unit_as_it_is_written(text: str, unit: str) -> None:
    assert unit_written(text) == unit


def test_a_point_is_a_72nd_of_an_inch() -> None:
    # ISO 32000-1, 8.3.2.3: default user space is 1/72 in to the unit; A4's 297 mm are 841.889... of them
    assert 297 / POINT == pytest.approx(841.8897637795, abs=1e-9)


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (139.7, "139.7 mm"),
        (140.0, "140 mm"),
        (0.0, "0 mm"),
        (-0.0, "0 mm"),
        (-0.004, "0 mm"),
        (-2.5, "-2.5 mm"),
        (104.775, "104.78 mm"),
        (104.775 - 1e-12, "104.78 mm"),
        (100.0, "100 mm"),
        (0.1 + 0.2, "0.3 mm"),
    ],
)
def test_in_mm(mm: float, text: str) -> None:
    assert in_mm(mm) == text


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (139.7, "5 1/2 in"),
        (12.7, "1/2 in"),
        (25.4, "1 in"),
        (0.0, "0 in"),
        (-0.001, "0 in"),
        (0.79375, "1/32 in"),  # 25.4 / 32
        (-38.1, "-1 1/2 in"),
        (140.0, "5 1/2 in +0.3 mm"),  # 139.7 + 0.3
        (139.5, "5 1/2 in -0.2 mm"),
        (-140.0, "-5 1/2 in -0.3 mm"),
        (25.449, "1 in"),  # no ruler shows 0.049 mm
        (25.38, "1 in"),
        (0.04, "0 in +0.04 mm"),  # but here it is all there is
        (0.004, "0 in"),
        (25.46, "1 in +0.1 mm"),
        (0.3, "0 in +0.3 mm"),
        (210.0, "8 9/32 in -0.3 mm"),  # 8 9/32 in = 210.34375 mm
    ],
)
def test_in_inches(mm: float, text: str) -> None:
    assert in_inches(mm) == text


def test_both_units_with_the_users_first() -> None:
    assert both(139.7, "in") == "5 1/2 in (139.7 mm)"
    assert both(139.7, "mm") == "139.7 mm (5 1/2 in)"
    assert both(140, "in") == "5 1/2 in +0.3 mm (140 mm)"


@pytest.mark.parametrize(
    ("size", "inches", "metric"),
    [
        ((104.775, 146.05), "4 1/8 × 5 3/4 in", "104.78 × 146.05 mm"),  # 4.125 x 25.4; 5.75 x 25.4
        ((105.0, 146.05), "4 1/8 in +0.2 mm × 5 3/4 in", "105 × 146.05 mm"),
        ((104.775, 146.0), "4 1/8 in × 5 3/4 in -0.1 mm", "104.78 × 146 mm"),  # -0.05, shown with one decimal
    ],
)
def test_sizes_in_both_units(size: tuple[float, float], inches: str, metric: str) -> None:
    assert both_sizes(size, "in") == f"{inches} ({metric})"
    assert both_sizes(size, "mm") == f"{metric} ({inches})"


@given(st.floats(min_value=-5000, max_value=5000))
def test_what_in_mm_writes_reads_back(mm: float) -> None:
    assert read_length(in_mm(mm), "in") == pytest.approx(mm, abs=0.005 + 1e-6)  # half of the second decimal


@given(st.floats(min_value=-5000, max_value=5000))
def test_what_in_inches_writes_reads_back(mm: float) -> None:
    # half of the first decimal of a remainder, or as much left unsaid
    assert read_length(in_inches(mm), "mm") == pytest.approx(mm, abs=0.05 + 1e-6)


@given(st.integers(min_value=1, max_value=1280))
def test_every_32nd_of_an_inch_is_written_without_a_remainder(parts: int) -> None:
    text = in_inches(parts * 25.4 / 32)
    assert text.endswith(" in")
    assert read_length(text, "mm") == pytest.approx(parts * 0.79375, abs=1e-9)  # 25.4 / 32 = 0.79375


def test_fits_and_close_forgive_a_millionth_of_a_millimetre() -> None:
    assert fits(0.1 + 0.2, 0.3) and fits(10, 10) and fits(10 + 9e-7, 10)
    assert not fits(10 + 2e-6, 10)
    assert close(10, 10 + 9e-7) and close(10 + 9e-7, 10)
    assert not close(10, 10 + 2e-6)
    assert close(10, 10.05, within=0.1) and not close(10, 10.2, within=0.1)
