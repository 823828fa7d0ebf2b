"""A spec to begin from: every key of a book in one cover style, with a comment that says what it is for.

Title, text paper and printing are written here; what has to do with cover and sewing comes from the style's and the
pattern's own keys, so that a new kind is offered as soon as it stands in its table.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import get_args

from pydantic.fields import FieldInfo

from bookplates.errors import BadSpec, Problem
from bookplates.kinds.keys import Keys, Squares, TurnIns
from bookplates.kinds.pairs import patterns_for
from bookplates.kinds.patterns import PATTERNS
from bookplates.kinds.styles import STYLES, Style
from bookplates.lengths import said

QUESTIONS: tuple[tuple[str, str, str], ...] = (
    ("title", "Title of the book", "Allotment notebook"),
    ("units", "Unit of bare numbers, mm or in", "mm"),
    ("style", "Kind of cover: {styles}", "taped"),
    ("sheet", "Text paper as bought, such as A4 or 8.5 x 11 in", "A4"),
    ("format", "How a sheet is folded: folio, quarto, octavo", "quarto"),
    ("sheets", "How many sheets", "5"),
    ("sections", "How many sections the folded sheets make", "1"),
    ("caliper", "Thickness of one sheet", "0.1 mm"),
    ("board", "Thickness of the boards, or of the card of a soft cover", "2 mm"),
    ("paper", "Paper in the printer", "A4"),
)

_TEMPLATE = """\
# A book for bookplates. Lines that begin with # are comments: take the # away to use a key.
# A length is written with its unit ("5 1/2 in", "140 mm", "14 cm"), or as a bare number in `units`.
# Next: bookplates plan FILE to see the sizes, bookplates make FILE for the templates.

title = {title}  # stands on every page
# maker = "Who makes it"  # stands on every page, too
units = {units}  # "mm" or "in": bare numbers, and which unit is shown first

[text_block]
sheet = {sheet}  # as bought; with format. Or instead of both: leaf = "105 x 148 mm"
format = {format}  # folio, quarto, octavo, sextodecimo: halved once, twice, three, four times
# orientation = "upright"  # which way the leaf stands; or "oblong"
# grain = "long"  # which side of the sheet the grain follows: "long" or "short"
sheets = {sheets}  # in all. Or instead: folios = 10, folded sheets
sections = {sections}  # how many sections they are nested in
# opening = "left"  # spine side seen from the front; or "right"
caliper = {caliper}  # thickness of a sheet; or grammage = 90 with bulk = 1.3,
  # or weight = "20 lb bond" with bulk
# fold = "sharp"  # how creep is reckoned; or "round"
# trim = "flush"  # fore-edge; or "none", or a length off the innermost leaf

# [measured]  # the sewn or pressed block as a ruler finds it: measure before cutting boards
# width = "104 mm"  # outermost fold to fore-edge
# height = "148 mm"  # head to tail
# thickness = "2.5 mm"  # at the spine, lightly pressed

{cover}
[print]
paper = {paper}  # in the printer
# large_paper = "A3"  # for plates that take fewer pages of it
# margin = "1/4 in"  # what the printer cannot reach; or sides: {{ top = 5, bottom = 15, left = 5, right = 5 }}
# copies = 1  # of every plate that is cut out, for a group
# overlap = "10 mm"  # of the pages that a plate too large for one is spread over
# font = "my_font.ttf"  # a TrueType file for letters that the built-in font lacks
# bar_across = "100 mm"  # what a ruler reads on the 100 mm bars of the scale page;
# bar_along = "100 mm"  #   anything else is corrected for

# [[stock]]  # what is on the table, one such table for each kind: bookplates fit says whether it suffices
# material = "cover paper"  # "board", "cover paper", "cloth", "lining paper", "text paper", "tape", "card" or "thread"
# name = "bean rows print"  # what it is called on the table
# size = "500 x 700 mm"  # of a sheet, width first; or instead, for tape or thread on a roll: length = "10 m"
# grain = "long"  # which side of the sheet the grain follows; or "short", or "none": nobody knows
# against_grain = false  # whether pieces may be cut across the grain, too
# pattern = "none"  # or "one-way": the motif has a top; or "two-way": it may stand on its head, not lie on its side
# count = 3  # sheets or rolls on hand
# price = "2.40 each"  # of a sheet or a roll: a number, or any words
# [[stock]]  # a roll
# material = "tape"
# name = "cloth tape"
# length = "10 m"
# width = "4 in"  # of a roll of tape

# [cutting]  # how it is cut
# blade = "0 mm"  # what a cut takes away
# offcut = "30 mm"  # an offcut is worth keeping when both its sides are at least so long

# [class]  # who makes the book: bookplates class prepares it for everybody
# title = "Allotment evening"  # of the class
# date = "first Tuesday in May"  # in any words
# students = 12  # how many, or a list of names: ["Ana", "Zoë"]
# spare = "10 %"  # what is bought and cut beyond what the students need
"""

_COMMENTS = 30
"""The column that comments beside a key begin in."""

PLAIN = ("sheets", "sections")
"""Answers that are whole numbers."""


def starter(answers: Mapping[str, str]) -> str:
    """The starter spec, with answers by key in place of what it proposes."""
    given: dict[str, str] = {}
    for key, _, usual in QUESTIONS:
        given[key] = answers.get(key, _proposed(key, usual, given))
    written = {key: _written(key, value) for key, value in given.items()}
    kinds = _kinds(_style(given["style"]), written)
    lines = [line for text in _TEMPLATE.splitlines() for line in (kinds if text == "{cover}" else (text.format(**written),))]
    return "".join(f"{_line(line)}\n" for line in lines)


def _style(name: str) -> type[Style]:
    return STYLES.get(name.strip(), STYLES["taped"])


def _kinds(style: type[Style], written: Mapping[str, str]) -> Iterator[str]:
    """The tables of a cover style and of the sewing it takes where none is written."""
    live = {"style": written["style"], "board": written["board"]}
    yield from ("[cover]", *_keys(style, live), "")
    for name, keys in style.tables.items():
        yield from (f"[{name}]", *_keys(keys, {}), "")
    usual = style.default_pattern
    others = " or ".join(json.dumps(name) for name in patterns_for(str(style.model_fields["style"].default)) if name != usual)
    yield from ("[sewing]", f"pattern = {json.dumps(usual)}  # {PATTERNS[usual].called}{f'; or {others}' if others else ''}")
    yield from (*_keys(PATTERNS[usual], {}, but="pattern"), "")


def _keys(model: type[Keys], live: Mapping[str, str], but: str = "") -> Iterator[str]:
    """A line for each key: those in `live` as they are given, the others commented out with their usual value."""
    for key, field in model.model_fields.items():
        if key in live:
            yield f"{key} = {live[key]}  # {field.description or 'the kind of cover'}"
        elif key != but and (not isinstance(field.default, Keys) or isinstance(field.default, Squares | TurnIns)):
            yield f"# {key} = {_usual(field)}  # {field.description}{_alternatives(field)}"


def _usual(field: FieldInfo) -> str:
    """The usual value of a key as it is written in TOML, or an example where there is none."""
    value = field.default
    if value is None:
        return json.dumps((field.examples or [""])[0], ensure_ascii=False)
    if isinstance(value, Squares | TurnIns):
        value = value.head
    return json.dumps(_length(value) if isinstance(value, float) else value)


def _length(mm: float) -> str:
    """A usual length as the trade says it: in inches where those are exact."""
    inches = said(mm, "in")
    return inches if "mm" not in inches else said(mm, "mm")


def _alternatives(field: FieldInfo) -> str:
    """The other words that a key may hold."""
    others = [json.dumps(word) for word in get_args(field.annotation) if isinstance(word, str) and word != field.default]
    return f"; or {' or '.join(others)}" if others else ""


def _line(line: str) -> str:
    """A line with its comment; however long its value is, comments stand below each other."""
    key, mark, comment = line.partition("  # ")
    return f"{key:<{_COMMENTS - 2}}  # {comment}" if mark else line


def _written(key: str, value: str) -> str:
    """A value as TOML: a whole number as it is, everything else quoted."""
    plain = value.strip()
    if key in PLAIN and re.fullmatch(r"[1-9][0-9]{0,8}", plain):
        return plain
    return json.dumps(plain, ensure_ascii=False).replace("\x7f", "\\u007f")


def ask(
    prompt: Callable[..., str], say: Callable[[str], None], problems_of: Callable[[bytes], Iterable[Problem]] | None = None
) -> dict[str, str]:
    """Ask for what differs from book to book; a bad answer is asked for again, with what is allowed.

    Args:
        prompt: asks one question; takes it, and the answer it proposes as `default`.
        say: tells what is wrong with an answer.
        problems_of: finds what is wrong with a whole spec; where there is none, its keys are looked at one by one.

    Returns:
        The answers by key.
    """
    check = problems_of or _problems_of_keys
    answers: dict[str, str] = {}
    for key, question, usual in QUESTIONS:
        proposed = _proposed(key, usual, answers)
        while True:
            given = str(prompt(question.format(styles=", ".join(STYLES)), default=proposed)).encode("utf-8", "replace").decode()
            fault = _fault({**answers, key: given}, {**answers, key: proposed}, check)
            if not fault:
                break
            say(fault)
        answers[key] = given
    return answers


def _proposed(key: str, usual: str, answers: Mapping[str, str]) -> str:
    """What suits the answers before it."""
    style = _style(answers.get("style", ""))
    if key in ("sheet", "paper"):
        return "Letter" if answers.get("units", "").strip() == "in" else usual
    if key == "sections":
        return "5" if PATTERNS[style.default_pattern].least_sections > 1 else "1"
    if key == "board":
        return _length(style.model_fields["board"].default or SOFT)
    return usual


SOFT = 0.3
"""Thickness of the card of a soft cover, mm: common practice, no source."""


def _fault(given: Mapping[str, str], proposed: Mapping[str, str], check: Callable[[bytes], Iterable[Problem]]) -> str:
    """What is wrong with the latest answer that is not wrong with the proposed one, or nothing."""
    before = set(check(starter(proposed).encode()))
    return "; ".join(str(problem) for problem in check(starter(given).encode()) if problem not in before)


def _problems_of_keys(source: bytes) -> Iterable[Problem]:
    from bookplates.spec.read import read_spec

    try:
        return read_spec(source).problems
    except BadSpec as error:
        return error.problems
