"""Content streams split into operations, against two readers that do it in ways of their own: pikepdf and pypdf."""

from __future__ import annotations

from io import BytesIO

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf.generic import ContentStream, DecodedStreamObject

import bookplates
from bookplates.errors import BadFile
from bookplates.readback import measure_pdf
from bookplates.readback.operations import _split, numbers, objects, operations
from bookplates.readback.paths import Broken
from books import ORCHARD
from raw_pdf import part, pdf


def stream(content: bytes) -> DecodedStreamObject:
    made = DecodedStreamObject()
    made.set_data(content)
    return made


def by_pypdf(content: bytes) -> list[tuple[object, bytes]]:
    return ContentStream(stream(content), None).operations


# Operands as ISO 32000-1, 7.3 lets them be written, those that need no look at what stands round them.
NUMBERS = st.sampled_from([b"0", b"-12", b"+3", b"4.", b".5", b"-.25", b"0.000001", b"283.464566929"])
NAMES = st.sampled_from([b"/Part", b"/F1", b"/a.b-c+d_e", b"/BI", b"/1"])
STRINGS = st.sampled_from([b"()", b"(oak gall)", rb"(\(a\)\\ \n\007b)", b"(q 1 0 0 1 Q ET)", b"(EI\nBI)", b"<FEFF00BD>", b"<>"])
VALUES = NUMBERS | NAMES | STRINGS
ARRAYS = st.lists(VALUES, max_size=4).map(lambda values: b"[" + b" ".join(values) + b"]")
DICTIONARIES = st.lists(st.tuples(NAMES, VALUES), max_size=3, unique_by=lambda pair: pair[0]).map(
    lambda pairs: b"<<" + b" ".join(b"%b %b" % pair for pair in pairs) + b">>"
)
OPERANDS = st.lists(VALUES | ARRAYS | DICTIONARIES, max_size=6)
OPERATORS = st.sampled_from([b"q", b"Q", b"cm", b"BDC", b"EMC", b"f*", b"T*", b"'", b'"', b"d0", b"re", b"W", b"B"])
SPACES = st.sampled_from([b" ", b"\n", b"\r\n", b"\t", b" \f "])


@given(st.lists(st.tuples(OPERANDS, OPERATORS), max_size=8), SPACES)
def test_a_plain_stream_is_split_as_pypdf_splits_it(drawn: list[tuple[list[bytes], bytes]], space: bytes) -> None:
    content = space.join(token for operands, operator in drawn for token in (*operands, operator))
    plain = _split(content)
    assert plain is not None
    assert [(objects(operands), operator) for operands, operator in plain] == by_pypdf(content)


def test_a_pack_is_split_as_pikepdf_splits_it() -> None:
    with pikepdf.open(BytesIO(bookplates.make_pack(ORCHARD).pdf)) as document:
        for page in document.pages:
            reference = pikepdf.parse_content_stream(page)
            found = _split(page.Contents.read_bytes())
            assert found is not None, "the program's own pages are plain"
            assert [operator for _, operator in found] == [bytes(one.operator) for one in reference]
            paths = [one for one in found if one[1] in (b"m", b"l", b"c", b"cm")]
            wanted = [[float(value) for value in one.operands] for one in reference if str(one.operator) in ("m", "l", "c", "cm")]
            assert [numbers(operands, len(values)) for (operands, _), values in zip(paths, wanted, strict=True)] == wanted


@pytest.mark.parametrize(
    "content",
    [
        b"q % a comment, with (brackets\nQ",
        b"BI /W 1 /H 1 /CS /G /BPC 8 ID x EI Q",
        b"(a (nested) string) Tj",
        b"/a#20b gs",
        b"[[1 2] 3] 0 d",
        b"<</A <</B 1>>>> n",
        b"1 0 0 1 0 0cm",
        b"1 0 0 1 0 0",
        b"q\x00Q",
    ],
)
def test_what_is_not_plain_is_left_to_pypdf(content: bytes) -> None:
    assert _split(content) is None
    assert operations(stream(content)) == by_pypdf(content)


def test_a_long_stream_is_left_to_pypdf_which_counts_its_work(monkeypatch: pytest.MonkeyPatch) -> None:
    assert _split(b"q Q") == [(b"", b"q"), (b"", b"Q")]
    monkeypatch.setattr("bookplates.readback.operations.LONGEST_PLAIN", 2)
    assert _split(b"q Q") is None


@pytest.mark.parametrize(
    "content", [b"(" * 100_000, b"<<" * 100_000, b"1 " * 200_000, b"[" + b"1 " * 200_000, b"a" * 400_000 + b"%"]
)
def test_what_is_not_plain_is_soon_seen(content: bytes) -> None:
    assert _split(content) is None  # were it not, the test would last for hours


@pytest.mark.parametrize("operands", [b"1 2 3 ", b"1 /x ", b"(1) 2 ", b"[1] 2 ", b"", [1, "2"]])
def test_other_operands_than_so_many_numbers_are_refused(operands: bytes | list[object]) -> None:
    with pytest.raises(Broken, match="has not the 2 numbers it needs"):
        numbers(operands, 2)


def test_parts_are_the_same_however_their_stream_is_read() -> None:
    content = part("0 0 m 72 0 l 72 36 l 0 36 l h S")
    plain, commented = (measure_pdf(pdf(f"{before}{content}")).parts for before in ("", "% not plain\n"))
    assert plain == commented
    assert len(plain) == 1


def test_a_fault_is_heard_of_every_time() -> None:
    damaged = pdf(r"/Part << /Plate (\q) /Name (x) /Line /cut >> BDC 0 0 m 9 9 l S EMC")
    for _ in range(2):
        with pytest.raises(BadFile, match="damaged"):
            measure_pdf(damaged)


def test_a_long_run_of_digits_is_split_or_left_without_delay() -> None:
    """Each further digit of a number that is none must not double the ways to read it."""
    before = _split(b"1" * 200_000 + b"x")
    assert before is None  # left to pypdf, at once: trying every split of the run took a minute for a tenth of it
