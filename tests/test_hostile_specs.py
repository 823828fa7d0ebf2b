"""Specs that mean no good, and specs at the bounds: whole processes, as a user would meet them.

Each is refused on few lines, within a second or so and little memory; or its pack is a sound PDF that says what was written
and does nothing by itself.
"""

from __future__ import annotations

import io
import json
import subprocess
import sys
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pikepdf
import pypdfium2
import pytest

from commands import MINIMAL, PROGRAM, Ran, bookplates, names_in

BODY = MINIMAL.partition(b"\n")[2].decode()
"""All of the book but its title."""


def titled(title: str) -> str:
    """A spec with that title, quotes and backslashes escaped as JSON has it, which TOML reads alike."""
    return f"title = {json.dumps(title, ensure_ascii=False)}\n{BODY}"


def made(folder: Path, source: str | bytes, command: str = "make") -> Ran:
    (folder / "pool.toml").write_bytes(source if isinstance(source, bytes) else source.encode())
    return bookplates(command, "pool.toml", cwd=folder)


def names_of_all(pdf: pikepdf.Pdf) -> Iterator[str]:
    """Every key of every dictionary, and every name that stands as a value."""
    for thing in pdf.objects:
        yield from _names(thing)


def _names(thing: Any) -> Iterator[str]:
    if isinstance(thing, pikepdf.Stream):
        thing = thing.stream_dict
    if isinstance(thing, pikepdf.Dictionary):
        for key, value in thing.items():
            yield key
            yield from () if getattr(value, "is_indirect", False) else _names(value)
    elif isinstance(thing, pikepdf.Array):
        for value in thing:
            yield from () if getattr(value, "is_indirect", False) else _names(value)
    elif isinstance(thing, pikepdf.Name):
        yield str(thing)


def said_on(data: bytes) -> list[str]:
    """The words of each page as pypdfium2 finds them, without spaces and breaks."""
    return ["".join(page.get_textpage().get_text_bounded().split()) for page in pypdfium2.PdfDocument(data)]


ACTIONS = {"/JavaScript", "/JS", "/AA", "/OpenAction", "/Launch", "/URI", "/SubmitForm", "/EmbeddedGoTo", "/RichMedia"}
"""What would act by itself or on a click (ISO 32000-1, 12.6)."""


class TestTitles:
    @pytest.mark.parametrize(
        "title",
        [
            ")/>> endobj <</JS(app.alert(1))>>",
            "1 0 obj <</OpenAction<</S/JavaScript/JS(x)>>>> endobj",
            "(\\) and ((\\",
            "%PDF-1.7 %%EOF stream endstream xref",
            "../../pools/../notes and C:\\pool\\..\\x",
            "[b]bold[/b] <i>x</i> &amp; {0} %s $(id) `id`",
            '\'; "quoted" \\u0041 \\n',
            "Cafe\u0301 au bord de la mare, A\u030angstro\u0308m",
            "Αλόη και θάλασσα",
            "Садовая тетрадь № 3",
            "W" * 60 + " and the rest",
            "x" * 200,
        ],
    )
    def test_signs_of_any_syntax_are_letters_and_nothing_else(self, tmp_path: Path, title: str) -> None:
        ran = made(tmp_path, titled(title))
        assert ran.code == 0, ran.err
        assert names_in(tmp_path) == {"pool.toml", "pool.pdf"}
        data = (tmp_path / "pool.pdf").read_bytes()
        with pikepdf.open(io.BytesIO(data)) as pdf:
            assert pdf.check_pdf_syntax() == []
            assert pdf.get_warnings() == []
            composed = unicodedata.normalize("NFC", title)
            assert str(pdf.docinfo["/Title"]) == composed
            assert not set(names_of_all(pdf)) & ACTIONS
            attached = pdf.attachments["spec.toml"].get_file().read_bytes()
            assert attached == (tmp_path / "pool.toml").read_bytes()
        first = "".join(composed.split())[:20]
        assert all(first in page for page in said_on(data))

    @pytest.mark.parametrize(
        ("title", "why"),
        [
            ("a" * 10_000, "is 10000 characters long; 200 at most"),
            ("bell \x07", "control characters (U+0007)"),
            ("nul \0", "control characters (U+0000)"),
            ("two\nlines", "control characters (U+000A)"),
            ("zero\u200bwidth", "control characters (U+200B)"),
            ("turned \u202egnp.exe", "control characters (U+202E)"),
            ("kept apart \u2066x\u2069", "control characters (U+2066, U+2069)"),
            ("\ufeffmarked", "control characters (U+FEFF)"),
            ("para\u2029graph", "control characters (U+2029)"),
            ("private \ue000", "control characters (U+E000)"),
            ("ספר הגן", "hebrew letter samekh"),
            ("كتاب", "arabic letter kaf"),
            ("q\u0301 does not compose", "combining acute accent"),
            ("Crabs \U0001f980", "crab"),
            ("海の本", "cjk unified ideograph-6d77"),
            ("", "is empty"),
            (" \u00a0\u2003 ", "is empty"),
        ],
    )
    def test_what_cannot_be_printed_is_refused_by_name(self, tmp_path: Path, title: str, why: str) -> None:
        parts = [title[n : n + 1000] for n in range(0, len(title), 1000)]
        toml = "\\\n".join("".join(c if c.isalnum() else f"\\U{ord(c):08X}" for c in part) for part in parts)
        ran = made(tmp_path, f'title = """{toml}"""\n{BODY}')
        assert (ran.code, ran.out, len(ran.lines)) == (1, "", 1), ran.err
        assert ran.err.startswith("pool.toml:1: title: ")
        assert why in ran.err
        assert all(letter.isprintable() for letter in ran.err.rstrip("\n"))
        assert names_in(tmp_path) == {"pool.toml"}


class TestToml:
    @pytest.mark.parametrize(
        "source",
        [
            MINIMAL.replace(b"\n", b"\r\n"),
            b"\xef\xbb\xbf" + MINIMAL,
            MINIMAL.replace(b"title", b'"title"').replace(b"[cover]", b'["cover"]'),
            MINIMAL.replace(b"title", b'"ti\\u0074le"'),
            MINIMAL.replace(b"folios = 8", b"folios = 0x8"),
            MINIMAL.replace(b"folios = 8", b"folios = 1_0"),
            MINIMAL.replace(b'"Tide pool notes"', b"'''\nTide pool notes'''"),
            b'title = "Tide pool notes"\ntext_block = { leaf = "100 x 150 mm", folios = 8 }\ncover.style = "taped"\n',
        ],
    )
    def test_other_ways_to_write_the_same_book(self, tmp_path: Path, source: bytes) -> None:
        ran = made(tmp_path, source)
        assert (ran.code, ran.err) == (0, "")

    @pytest.mark.parametrize(
        ("source", "why"),
        [
            (MINIMAL + b"[text_block]\nfolios = 9\n", "7: .*[text_block]"),
            (MINIMAL + b"[text_block.leaf]\nx = 1\n", "7: .*[text_block.leaf]"),
            (b"text_block.folios = 8\n" + MINIMAL, "3: .*[text_block]"),
            (b"text_block = {}\n" + MINIMAL, "3: .*[text_block]"),
            (MINIMAL.replace(b"folios = 8", b"folios = 8\n'folios' = 9"), "5: .*'folios' = 9"),
            (MINIMAL.replace(b"folios = 8", b"folios = 1979-05-27"), "4: text_block.folios: .*wrong kind"),
            (MINIMAL.replace(b"folios = 8", b"folios = 07:32:00"), "4: text_block.folios: .*wrong kind"),
            (MINIMAL.replace(b"folios = 8", b"folios = nan"), "4: text_block.folios: "),
            (MINIMAL.replace(b"folios = 8", b"folios = -inf"), "4: text_block.folios: "),
            (MINIMAL.replace(b"folios = 8", b"folios = true"), "4: text_block.folios: .*wrong kind"),
            (MINIMAL.replace(b"folios = 8", b"folios = {}"), "4: text_block.folios: .*wrong kind"),
            (MINIMAL.replace(b"folios = 8", b"folios = 08"), "4: "),
            (MINIMAL.replace(b"folios = 8", b"folios = 8.0"), "4: text_block.folios: "),
            (MINIMAL.replace(b"notes", b"notes\\ud800"), "1: .*ud800"),
            (MINIMAL.replace(b"notes", b"notes\0"), "1: "),
            (MINIMAL.replace(b"notes", b"notes\xff"), "1: "),
            (MINIMAL.replace(b"notes", b"notes\xed\xa0\x80"), "1: "),
            (MINIMAL.replace(b"\n", b"\r"), "1: "),
            (MINIMAL.decode().encode("utf-16"), "1: "),
            (MINIMAL.decode().encode("utf-16-le"), "1: "),
            (b"", "1: title: is missing"),
        ],
    )
    def test_what_is_no_spec_is_told_at_its_line(self, tmp_path: Path, source: bytes, why: str) -> None:
        ran = made(tmp_path, source)
        place, _, words = why.partition(": ")
        at = [line for line in ran.lines if line.startswith(f"pool.toml:{place}: ")]
        assert ran.code == 1
        assert at, ran.err
        assert all(word in at[0] for word in words.split(".*")), ran.err
        assert names_in(tmp_path) == {"pool.toml"}


# ---- bounds


class Spent(NamedTuple):
    code: int
    seconds: float
    megabytes: float
    said: bytes
    names: set[str]


WATCHED = """\
import json, os, sys, time
begun = time.monotonic()
pid = os.posix_spawn(sys.argv[1], sys.argv[1:], os.environ)
_, status, used = os.wait4(pid, 0)
print(json.dumps([os.waitstatus_to_exitcode(status), time.monotonic() - begun, used.ru_maxrss / 1024]), file=sys.stderr)
"""
"""A small process that starts the program: the system counts with a process what the one that started it was holding then."""


def spent(folder: Path, source: str, command: str = "make") -> Spent:
    """What a whole process takes by the system's account (wait4(2)), and what it says on standard error."""
    (folder / "pool.toml").write_text(source, encoding="utf-8")
    watched = [sys.executable, "-I", "-S", "-c", WATCHED, *PROGRAM, command, "pool.toml"]
    ran = subprocess.run(watched, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=True)
    *said, account = ran.stderr.splitlines(keepends=True)
    return Spent(*json.loads(account), b"".join(said), names_in(folder))


HEAD = 'title = "Rock pools"\n'
BOOK = HEAD + BODY
LEVELS = 10_000

TOO_MUCH = {
    "ten megabytes": BOOK + ("#" * 79 + "\n") * 125_000,
    "lists in lists": HEAD + "x = " + "[\n" * LEVELS + "]\n" * LEVELS,
    "lists never closed": HEAD + "x = " + "[\n" * LEVELS,
    "tables in tables": HEAD + "x = " + "{a = " * 350 + "1" + "}" * 350 + "\n",
    "a key of many parts": HEAD + ".".join("a" * LEVELS) + " = 1\n",
    "a table of many parts": BOOK + f"[{'.'.join('a' * 990)}]\nb = 1\n",
    "many keys of many parts": BOOK + "".join(f"{'.'.join('a' * 300)}.b{n} = 1\n" for n in range(90)),
    "a million stations": BOOK + "[sewing]\ncount = 1000000\n",
    "stations to the last byte": BOOK + "[sewing]\nstations = [\n" + "1,\n" * 20_000 + "]\n",
    "a spacing of a hair": BOOK.replace("100 x 150", "700 x 1000") + "[sewing]\nspacing = 0.001\n",
    "sheets beyond the bound": HEAD + '[text_block]\nsheet = "A4"\nformat = "quarto"\nsheets = 5001\n[cover]\nstyle = "taped"\n',
    "folios beyond the bound": BOOK.replace("folios = 8", "folios = 5001"),
    "sections beyond the bound": BOOK.replace("folios = 8", "folios = 5000\nsections = 501"),
    "panels beyond the bound": HEAD + '[text_block]\nleaf = "100 x 150 mm"\n[cover]\nstyle = "concertina"\npanels = 10001\n',
    "a leaf of five metres": BOOK.replace("100 x 150", "5000 x 5000"),
    "copies for a nation": BOOK + "[print]\ncopies = 1000000000\n",
    "copies beyond the bound": BOOK + "[print]\ncopies = 501\n",
    "a stock of tables": BOOK + "stock = [\n" + "{a = {b = {c = [{d = 1}]}}},\n" * 2_000 + "]\n",
    "many tables of one name": BOOK + "[[stock]]\n" * 6_000,
    "a number of 5,000 figures": BOOK.replace("folios = 8", f"folios = {'9' * 5000}"),
    "a number of 1,900 figures": BOOK.replace("folios = 8", f"folios = {'9' * 1900}"),
    "a hexadecimal number of 1,900 figures": BOOK.replace("folios = 8", f"folios = 0x{'f' * 1900}"),
    "a length of 1,900 figures": BOOK.replace("100 x 150 mm", f"100 x {'9' * 1900} mm"),
    "a line of 60,000 characters": BOOK + "#" * 60_000 + "\n",
    "keys that nobody knows": BOOK + "".join(f"k{n:04x} = 1\n" for n in range(5_500)),
    "tables that nobody knows": BOOK + "".join(f"[k{n:04x}]\n" for n in range(7_000)),
    "long keys that nobody knows": BOOK + "".join(f"{'square' * 250}{n} = 1\n" for n in range(40)),
}


@pytest.mark.parametrize("command", ["plan", "make"])
@pytest.mark.parametrize("name", TOO_MUCH)
def test_too_much_is_refused_soon_and_with_little(tmp_path: Path, name: str, command: str) -> None:
    if command == "plan" and "copies" in name:
        assert spent(tmp_path, TOO_MUCH[name], command).code == 0  # it never refuses because of [print]
        return
    took = spent(tmp_path, TOO_MUCH[name], command)
    print(f"{name}: {took.seconds:.2f} s, {took.megabytes:.0f} MB, {len(took.said)} bytes of {took.said.count(10)} lines")
    assert took.code == 1
    assert took.names == {"pool.toml"}
    assert took.seconds < 5
    assert took.megabytes < 200
    assert b"Traceback" not in took.said
    assert b"mistake" not in took.said
    assert 1 <= took.said.count(b"\n") <= 7_010  # a line for each problem, and no more problems than lines
    assert len(took.said) < 20 * 65_536


def thick(sections: int, folios: int, stations: int, style: str = "exposed", pattern: str = "link") -> str:
    return (
        f'{HEAD}[text_block]\nleaf = "240 x 1000 mm"\nfolios = {folios}\nsections = {sections}\ncaliper = 0.05\n'
        f'[cover]\nstyle = "{style}"\n[sewing]\npattern = "{pattern}"\ncount = {stations}\n'
    )


@pytest.mark.parametrize("command", ["plan", "make"])
def test_more_holes_in_a_cover_than_anybody_pierces_are_refused(tmp_path: Path, command: str) -> None:
    took = spent(tmp_path, thick(500, 5000, 300, "wrapper", "long stitch"), command)
    assert (took.code, took.names) == (1, {"pool.toml"})
    assert b"300 stations in each of 500 sections are 150,000 holes in the cover; 10,000 at most: sewing.count = 20" in took.said
    assert took.seconds < 5


@pytest.mark.parametrize(
    ("source", "command", "seconds", "megabytes"),
    [
        (thick(500, 5000, 300), "plan", 30, 400),  # every bound of a text block at once: took 3 s and 180 MB
        (thick(500, 5000, 20, "wrapper", "long stitch"), "plan", 30, 400),
        (thick(20, 200, 60), "make", 60, 300),
        (thick(4, 40, 100, "wrapper", "long stitch"), "make", 60, 300),
        (BOOK + "[print]\ncopies = 60\n", "make", 60, 400),
    ],
)
def test_the_largest_books_are_made_in_time(tmp_path: Path, source: str, command: str, seconds: float, megabytes: float) -> None:
    took = spent(tmp_path, source, command)
    print(f"{command}: {took.seconds:.1f} s, {took.megabytes:.0f} MB")
    assert took.code == 0, took.said
    assert took.seconds < seconds
    assert took.megabytes < megabytes
    assert took.names == ({"pool.toml", "pool.pdf"} if command == "make" else {"pool.toml"})
