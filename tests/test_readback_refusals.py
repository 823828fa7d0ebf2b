"""Files that are no PDF, or are broken, encrypted or hostile: refused in one sentence, never with another error."""

from __future__ import annotations

import logging
import re
from io import BytesIO

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bookplates.errors import BadFile
from bookplates.readback import measure_pdf
from raw_pdf import CIRCLE, Form, bars, part, pdf, saved, with_forms


def refused(data: bytes) -> str:
    with pytest.raises(BadFile) as caught:
        measure_pdf(data)
    (problem,) = caught.value.problems
    return str(problem)


def measured_or_refused(data: bytes) -> bool:
    """Whether the file was measured, or refused with a sentence; any other error ends the test."""
    try:
        return measure_pdf(data).pages >= 1
    except BadFile as refusal:
        return all(problem.what for problem in refusal.problems)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("q " + part("0 0 m 9 0 l S"), "ends inside a graphics state"),
        ("Q " + part("0 0 m 9 0 l S"), "never saved"),
        ("EMC", "never began"),
        ("/Span BMC", "ends inside marked content"),
        ("/Part << /Plate (a) /Name (b) /Line /cut >> BDC 0 0 m 9 0 l S", "ends inside marked content"),
        (part(part("0 0 m 9 0 l S", "inner"), "outer"), "'inner' begins inside the part 'outer'"),
        (part(""), "draws nothing"),
        (part("0 0 m 9 9 l n"), "draws nothing"),
        (part("0 0 m 9 9 l"), "draws nothing"),
        (part("0 0 m 9 0 l S 0 9 m 9 9 l S"), "draws 2 outlines or lines"),
        (part("0 0 m 9 0 l 0 9 m 9 9 l S"), "draws 2 outlines or lines"),
        (part("9 9 l S"), "from nowhere"),
        (part("9 9 9 9 9 9 c S"), "from nowhere"),
        (part("0 0 m 9 l S"), "2 numbers"),
        (part("(a) 0 m 9 9 l S"), "2 numbers"),
        (part("0 0 m 1 2 3 9 9 c S"), "6 numbers"),
        (part("0 0 9 re S"), "4 numbers"),
        ("1 0 0 1 cm", "6 numbers"),
        ("/Part << /Plate (a) /Name (b) >> BDC EMC", "a plate, a name and a line"),
        ("/Part << /Plate (a) /Name 7 /Line /cut >> BDC EMC", "a plate, a name and a line"),
        ("/Part /P9 BDC EMC", "/P9 of a part are missing"),
        ("/X Do", "/X, which its resources do not hold"),
        ("Do", "which its resources do not hold"),
        (part("0 0 m 0 0 l S", "bar across", "bar"), "bar across has no length"),
        (part("0 0 m 1..2 9 l S"), "damaged"),
        ("<< /A", "damaged"),
        ("(never closed", "damaged"),
        ("[" * 5000, "damaged"),
        (part("0 0 m " + "9" * 400 + " 0 l S"), "page 1"),
        ("1e999 0 0 1 0 0 cm", "6 numbers"),
        (("99999999999999999999 0 0 99999999999999999999 0 0 cm " * 20) + part("0 0 m 9 9 l S"), "off any paper"),
    ],
)
def test_content_that_makes_no_sense(content: str, said: str) -> None:
    assert said in refused(pdf(content))


def test_forms_that_never_end() -> None:
    assert "draws itself" in refused(with_forms("/F0 Do", ("/F1 Do", {}), ("/F0 Do", {})))
    chain: list[Form] = [(f"/F{number} Do", {}) for number in range(1, 17)]
    assert measure_pdf(with_forms("/F0 Do", *chain[:15], (part("0 0 m 9 0 l S"), {}))).has_parts  # 16 deep
    assert "more than 16 deep" in refused(with_forms("/F0 Do", *chain, (part("0 0 m 9 0 l S"), {})))  # 17
    doubling: list[Form] = [(f"/F{number} Do " * 50, {}) for number in range(1, 15)]
    assert "without end" in refused(with_forms("/F0 Do", *doubling, ("0 0 m", {})))


def test_a_form_keeps_its_own_balance() -> None:
    assert "never saved" in refused(with_forms("q /F0 Do Q", ("Q", {})))
    assert "ends inside marked" in refused(with_forms("/F0 Do EMC", ("/Span BMC", {})))


def test_an_encrypted_file() -> None:
    out = BytesIO()
    pikepdf.open(BytesIO(pdf(part("0 0 m 9 0 l S")))).save(out, encryption=pikepdf.Encryption(owner="pear", user=""))
    assert refused(out.getvalue()) == "the PDF is encrypted; save it without a password"


@pytest.mark.parametrize("data", [b"", b"%PDF", b"Dear reader", b"PK\x03\x04", b"\x00" * 5000])
def test_not_a_pdf(data: bytes) -> None:
    assert refused(data) == "this is not a PDF"


GOOD = pdf(bars() + part("0 0 m 72 0 l 72 36 l h S"), bars() + part(CIRCLE + " s"), compress=True)


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(GOOD) - 7))
def test_a_pdf_cut_short_anywhere(length: int) -> None:
    refused(GOOD[:length])


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=400), st.booleans())
def test_random_bytes(noise: bytes, dressed: bool) -> None:
    refused(b"%PDF-1.7\n" + noise + b"\nstartxref\n0\n%%EOF\n" if dressed else noise)


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(GOOD) - 1), st.binary(min_size=1, max_size=6))
def test_a_damaged_pdf_is_read_or_refused_and_nothing_else(at: int, noise: bytes) -> None:
    assert measured_or_refused(GOOD[:at] + noise + GOOD[at + len(noise) :])


@settings(max_examples=100, deadline=None)
@given(st.text(alphabet="qQmlchvySsfBbnWEMCDT0123456789.-/()<>[] {}%", max_size=60))
def test_random_content_is_read_or_refused_and_nothing_else(content: str) -> None:
    assert measured_or_refused(pdf(part(content)))


def test_a_damaged_deflated_stream_is_refused() -> None:
    start = GOOD.index(b"stream\n") + len(b"stream\n")
    length = GOOD.index(b"\nendstream", start) - start
    assert length > 60
    for at in range(start + 2, start + length):  # behind the two bytes of the header, checksum included
        refused(GOOD[:at] + bytes([GOOD[at] ^ 0x10]) + GOOD[at + 1 :])


def test_a_small_stream_that_swells_is_refused() -> None:
    assert "page 1: its content is" in refused(pdf(" " * 70_000_000, compress=True))


def test_content_that_is_missing_or_no_stream() -> None:
    document = pikepdf.new()
    document.add_blank_page()
    document.pages[0].obj.Contents = pikepdf.Dictionary(A=1)
    assert "no stream" in refused(saved(document))
    dangling = re.sub(rb"/Contents \d", b"/Contents 9", pdf("0 0 m 9 0 l S"))
    assert "page 1" in refused(dangling)


@pytest.mark.parametrize("unit", [0, -1, pikepdf.Name("/big")])
def test_a_user_unit_that_is_none(unit: object) -> None:
    assert refused(pdf(part("0 0 m 9 0 l S"), UserUnit=unit)).startswith("page 1: ")


def test_nothing_is_printed_and_the_logger_is_as_it_was(capfd: pytest.CaptureFixture[str]) -> None:
    logger = logging.getLogger("pypdf")
    before = (logger.level, logger.propagate, list(logger.handlers))
    refused(pdf(part("0 0 m 1..2 9 l S")))
    refused(GOOD[:-200] + b"\n%%EOF\n")
    assert (logger.level, logger.propagate, list(logger.handlers)) == before
    assert capfd.readouterr() == ("", "")
