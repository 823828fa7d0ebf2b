"""Whatever is given, the answer is a pack, a plan, or an error a binder can act on; never anything else."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any, TypeVar

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bookplates import make_pack, measure_pdf, plan
from bookplates.book.as_json import plan_as_json
from bookplates.errors import BadSpec, BookplatesError, Disagreement, one_line
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES
from bookplates.report import measured_table, plan_table
from bookplates.spec.lines import line_of, lines_of_keys
from bookplates.spec.tables import Head, Measured, Print, TextBlock
from books import ACORN, BOOKS

Result = TypeVar("Result")

CALM = settings(derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])

PIECES = st.sampled_from(
    [
        *(
            '"',
            "'",
            '"""',
            "'''",
            "[",
            "]",
            "[[",
            "]]",
            "{",
            "}",
            "=",
            ".",
            ",",
            "#",
            "\n",
            "\\",
            "\r\n",
            "\0",
            "\ufeff",
            "\u2028",
        ),
        *("title", "[cover]", "[tape]", "[sewing]", "[print]", "[text_block]", "style", "taped", "leaf", "1e400", "nan", "-inf"),
        *('title = "x"\n', '[cover]\nstyle = "taped"\n', '[text_block]\nleaf = "100 x 150 mm"\nfolios = 8\n', "a.b.c = 1\n"),
    ]
)


def tried(call: Callable[[], Result]) -> Result | BookplatesError:
    """What a call returns, or the error a user is told; a pack that disagrees with its plan is our fault, and passes on."""
    try:
        return call()
    except Disagreement:
        raise
    except BookplatesError as error:
        return error


def judged(source: str | bytes) -> None:
    """Plan a book; where it is refused, each problem has its words, and its place is a line of the text."""
    found = tried(lambda: plan(source))
    if not isinstance(found, BookplatesError):
        assert plan_table(found)
        assert plan_as_json(found)["title"] == found.title
        return
    text = source if isinstance(source, str) else source.decode("utf-8-sig", "replace")
    assert found.problems
    for problem in found.problems:
        assert problem.what
        line = problem.line or line_of(lines_of_keys(text), problem.where)
        assert 1 <= line <= max(1, len(text.split("\n")))
        assert "\n" not in one_line(str(problem))


@CALM
@given(st.binary(max_size=300))
def test_any_bytes_are_a_spec_or_refused(source: bytes) -> None:
    judged(source)


@CALM
@given(st.text(max_size=300))
def test_any_text_is_a_spec_or_refused(source: str) -> None:
    judged(source)


@CALM
@given(st.lists(PIECES, max_size=40).map("".join))
def test_any_heap_of_pieces_is_a_spec_or_refused(source: str) -> None:
    judged(source)


@CALM
@given(st.sampled_from(sorted(BOOKS.values())), st.data())
def test_a_spec_cut_and_patched_anywhere_is_a_spec_or_refused(source: str, data: st.DataObject) -> None:
    first = data.draw(st.integers(0, len(source)))
    last = data.draw(st.integers(first, min(len(source), first + 60)))
    patch = data.draw(st.one_of(PIECES, st.text(max_size=6)))
    judged(source[:first] + patch + source[last:])


TABLES: dict[str, Any] = {
    "": Head,
    "text_block": TextBlock,
    "measured": Measured,
    "cover": STYLES["taped"],
    "tape": STYLES["taped"].tables["tape"],
    "sewing": PATTERNS["chain"],
    "print": Print,
}
KEYS = st.sampled_from([(table, key) for table, model in TABLES.items() for key in model.model_fields if key != "tape"])
VALUES = st.one_of(
    st.sampled_from(
        [
            *("true", "nan", "-inf", "1979-05-27", "[]", "{}", '""', '"none"', '"full"', '"turn-in"', '"right"', '"round"'),
            *('"A0"', '"A6"', '"Letter"', '"25 x 40 mm"', '"1000 x 20 mm"', '"1/0 in"', '"1e3 mm"', '"pamphlet"', '"octavo"'),
            *('"20 lb bond"', '[10, "2 in", 90]', '{head = "3 mm"}', "{fore_edge = 50}", "9" * 30, "0.1", "5000", "99.5"),
        ]
    ),
    st.integers(-2, 400).map(str),
    st.floats(0, 300, width=16).map("{:.4f}".format),
    st.integers(0, 200).map('"{} mm"'.format),
    st.integers(0, 64).map('"{}/8 in"'.format),
)


def written(changes: dict[tuple[str, str], str]) -> str:
    """A small book, with some of its keys changed, as TOML."""
    keys = {("", "title"): '"T"', ("text_block", "leaf"): '"90 x 120 mm"', ("text_block", "folios"): "8"}
    keys |= {("cover", "style"): '"taped"', ("print", "paper"): '"A3"', **changes}
    lines = (f"[{table}]" if key is None else f"{key} = {keys[table, key]}" for table, key in _in_order(keys))
    return "\n".join(lines)


def _in_order(keys: dict[tuple[str, str], str]) -> list[tuple[str, str | None]]:
    ordered: list[tuple[str, str | None]] = []
    for table in TABLES:
        ordered += [(table, None)] if table else []
        ordered += [(table, key) for of, key in keys if of == table]
    return ordered


@settings(CALM, max_examples=100)
@given(st.dictionaries(KEYS, VALUES, max_size=3))
def test_any_values_of_real_keys_make_a_pack_or_are_refused(changes: dict[tuple[str, str], str]) -> None:
    made = tried(lambda: make_pack(written(changes)))
    if isinstance(made, BookplatesError):
        assert all(problem.where for problem in made.problems), made
        return
    assert made.verified.parts > 10
    assert made.plan.text_block.thickness > 0


def mm(least: int, most: int) -> st.SearchStrategy[str]:
    """Half millimetres, written."""
    return st.integers(2 * least, 2 * most).map(lambda halves: f'"{halves / 2} mm"')


LIKELY = st.fixed_dictionaries(
    {
        ("text_block", "leaf"): st.builds('"{} x {} mm"'.format, st.integers(60, 210), st.integers(80, 300)),
        ("text_block", "folios"): st.integers(1, 24).map(str),
        ("text_block", "caliper"): st.sampled_from(["0.08", "0.1", "0.2"]),
    },
    optional={
        ("text_block", "opening"): st.sampled_from(['"left"', '"right"']),
        ("text_block", "fold"): st.sampled_from(['"sharp"', '"round"']),
        ("text_block", "trim"): st.sampled_from(['"flush"', '"none"', '"1 mm"']),
        ("cover", "board"): mm(1, 4),
        ("cover", "square"): mm(2, 6),
        ("cover", "joint"): mm(4, 9),
        ("cover", "turn_in"): st.builds("{{ head = {}, tail = {}, fore_edge = {} }}".format, mm(18, 30), mm(18, 30), mm(18, 30)),
        ("cover", "lining_margin"): mm(3, 10),
        ("tape", "inside"): st.sampled_from(['"full"', '"turn-in"']),
        ("tape", "overlap"): mm(8, 20),
        ("sewing", "pattern"): st.sampled_from(['"chain"', '"pamphlet"']),
        ("print", "bar_across"): st.sampled_from(["96", "99.5", "104"]),
        ("print", "bar_along"): st.sampled_from(["97", "100.5", "103"]),
        ("print", "paper"): st.sampled_from(['"A2"', '"ANSI C"', '"500 x 500 mm"']),
    },
)


@settings(CALM, max_examples=10)
@given(LIKELY)
def test_any_likely_book_is_made_and_measures_as_planned(changes: dict[tuple[str, str], str]) -> None:
    made = make_pack(written({("print", "paper"): '"A2"', ("tape", "width"): '"120 mm"', **changes}))
    assert made.verified.largest_difference < 0.001
    assert made.verified.parts >= 40 + 2 * made.pages


@pytest.mark.parametrize("lone", ["\ud800", 'title = "\udcff"'])
def test_half_a_letter_is_refused(lone: str) -> None:
    with pytest.raises(BadSpec, match="UTF-8"):
        plan(lone)


@pytest.mark.parametrize("title", ["[/b]", "[bold red]x[/]", "%s {0} {x}", "(unbalanced", "a\\", "<</JS>>", "½ × Łąka", "‘’“”…"])
def test_any_printable_title_is_printed_as_it_is(title: str) -> None:
    made = make_pack(ACORN.replace('"Acorn book"', json.dumps(title, ensure_ascii=False)))
    assert made.plan.title == title
    assert plan_table(made.plan).splitlines()[0] == title


@pytest.mark.parametrize("letters", ["שלום", "本の綴じ", "e\u0332x\u0489", "\u202egnp", "\U0001f4d6"])
def test_a_title_that_cannot_be_printed_is_refused_by_name(letters: str) -> None:
    with pytest.raises(BadSpec, match="title: ") as refused:
        make_pack(ACORN.replace("Acorn book", letters))
    assert len(refused.value.problems) == 1


@settings(CALM, max_examples=25)
@given(st.data())
def test_a_damaged_pack_is_measured_or_refused(pack: Any, data: st.DataObject) -> None:
    whole = pack("acorn", "A4").pdf
    at = data.draw(st.integers(0, len(whole) - 1))
    patch = data.draw(st.one_of(st.binary(min_size=1, max_size=8), st.sampled_from([b"endobj", b"<<", b"0 0 R", b"stream\n"])))
    damaged = whole[:at] + patch + whole[at + len(patch) :]
    measured = tried(lambda: measure_pdf(damaged))
    if isinstance(measured, BookplatesError):
        assert re.fullmatch(r"[^\n]+", str(measured))
    else:
        assert measured_table(measured)
