"""A spec to begin from: every key of a taped notebook, with a comment that says what it is for."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping

from bookplates.errors import BadSpec, Problem

QUESTIONS: tuple[tuple[str, str, str], ...] = (
    ("title", "Title of the book", "Allotment notebook"),
    ("units", "Unit of bare numbers, mm or in", "mm"),
    ("sheet", "Text paper as bought, such as A4 or 8.5 x 11 in", "A4"),
    ("format", "How a sheet is folded: folio, quarto, octavo", "quarto"),
    ("sheets", "How many sheets", "5"),
    ("caliper", "Thickness of one sheet", "0.1 mm"),
    ("board", "Thickness of the boards", "2 mm"),
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
# sections = 1  # how many sections they are nested in; a chain or a pamphlet stitch takes one
# opening = "left"  # spine side seen from the front; or "right"
caliper = {caliper}  # thickness of a sheet; or grammage = 90 with bulk = 1.3,
  # or weight = "20 lb bond" with bulk
# fold = "sharp"  # how creep is reckoned; or "round"
# trim = "flush"  # fore-edge; or "none", or a length off the innermost leaf

# [measured]  # the sewn or pressed block as a ruler finds it: measure before cutting boards
# width = "104 mm"  # outermost fold to fore-edge
# height = "148 mm"  # head to tail
# thickness = "2.5 mm"  # at the spine, lightly pressed

[cover]
style = "taped"  # two boards joined by a book tape down the spine
board = {board}  # thickness of the boards
# square = "1/8 in"  # board beyond the leaves; or {{ head = "3 mm", tail = "3 mm", fore_edge = "4 mm" }}
# joint = "1/4 in"  # spine edge of the leaves to the back edge of the board; or instead: gap = "16 mm"
# turn_in = "1 in"  # covering folded over the board; or a table like that of square
# mitre = "3 mm"  # board corner to the cut; 1.5 x board where not written
# lining_margin = "3/8 in"  # board showing round the lining

[tape]
# width = "4 in"  # as bought
# inside = "full"  # the tape lines the inside too; or "turn-in": folded over head and tail only
# turn_in = "1 in"  # for inside = "turn-in"
# overlap = "1/2 in"  # how far the tape's ends, or an inner strip, lap

[sewing]
pattern = "chain"  # or "pamphlet"
# spacing = "1/2 in"  # stations this far apart; or: count = 5; or: stations = ["20 mm", "74 mm", "128 mm"]
# end_margin = "1/2 in"  # smallest distance from head and tail to a station
# hole = "1 mm"  # how large a hole is drawn
# punch_at_once = 10  # folded sheets pierced together
# thread = "0.5 mm"  # its thickness
# thread_end = "85 mm"  # left at each end

[print]
paper = {paper}  # in the printer
# margin = "1/4 in"  # what the printer cannot reach
# bar_across = "100 mm"  # what a ruler reads on the 100 mm bars of the scale page;
# bar_along = "100 mm"  #   anything else is corrected for
"""

_COMMENTS = 30
"""The column that comments beside a key begin in."""


def starter(answers: Mapping[str, str]) -> str:
    """The starter spec, with answers by key in place of what it proposes."""
    values = {key: answers.get(key, proposed) for key, _, proposed in QUESTIONS}
    written = {key: _written(key, value) for key, value in values.items()}
    return "".join(f"{_line(line, written)}\n" for line in _TEMPLATE.splitlines())


def _line(line: str, written: Mapping[str, str]) -> str:
    """A line of the template with its answer in it; however long that is, comments stand below each other."""
    key, mark, comment = line.partition("  # ")
    filled = key.format(**written)
    return f"{filled:<{_COMMENTS - 1}} # {comment.format(**written)}" if mark else filled


def _written(key: str, value: str) -> str:
    """A value as TOML: a number of sheets as it is, everything else quoted."""
    plain = value.strip()
    if key == "sheets" and re.fullmatch(r"[1-9][0-9]{0,8}", plain):
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
            given = str(prompt(question, default=proposed)).encode("utf-8", "replace").decode()
            fault = _fault({**answers, key: given}, {**answers, key: proposed}, check)
            if not fault:
                break
            say(fault)
        answers[key] = given
    return answers


def _proposed(key: str, proposed: str, answers: Mapping[str, str]) -> str:
    if answers.get("units") == "in" and key in ("sheet", "paper"):
        return "Letter"
    return proposed


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
