"""Some pages of a pack, by number."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import pairwise

from bookplates.errors import Problem, WrongUse

OPTION = "--pages"
LIKE = 'numbers and ranges, such as "2-4,7"'
_RANGE = re.compile(r"(?P<first>[0-9]{0,9})(?:(?P<to>\s*-\s*)(?P<last>[0-9]{0,9}))?")


def numbers_in(text: str, of: int) -> tuple[int, ...]:
    """The pages named by numbers and ranges with commas between, each once, in the order of the pack.

    A range without a beginning begins with the first page, one without an end ends with the last.

    Args:
        text: such as ``2-4,7`` or ``5-``.
        of: how many pages there are.

    Raises:
        WrongUse: with everything in it that cannot be read, or that names no page.

    >>> numbers_in("7-, 2-4", 9)
    (2, 3, 4, 7, 8, 9)
    """
    ranges = [_range(piece.strip(), of) for piece in text.split(",")]
    problems = [found for found in ranges if isinstance(found, Problem)]
    if problems:
        raise WrongUse(*problems)
    return tuple(sorted({number for found in ranges if not isinstance(found, Problem) for number in found}))


def _range(text: str, of: int) -> range | Problem:
    match = _RANGE.fullmatch(text)
    if not match or not (match["first"] or match["last"]):
        return _wrong(f"{text!r} is no range of pages", of)
    first = int(match["first"] or 1)
    last = int(match["last"] or of) if match["to"] else first
    if first > of or last > of or min(first, last) < 1:
        return _wrong(f"there is no page {first if not 1 <= first <= of else last}", of)
    return range(first, last + 1) if first <= last else _wrong(f"{text} runs backwards", of)


def _wrong(what: str, of: int) -> Problem:
    pages = "there is 1 page" if of == 1 else f"there are {of} pages"
    return Problem(OPTION, what, f"{pages}; {LIKE}")


_WORDS = re.compile(r"(?:only (?P<plates>[a-z]+(?:,? [a-z]+)*))?(?:; )?(?:pages? (?P<pages>[0-9, -]+) of (?P<of>[0-9]{1,6}))?")


def told(words: str) -> tuple[tuple[str, ...], tuple[int, ...]] | None:
    """The plates that an excerpt says it holds alone, and the pages; none for all. None for words that are no excerpt's.

    >>> told("only spacer, sizes; pages 2-3 of 4"), told("page 1 of 16"), told("most of it"), told("page 5 of 3")
    ((('spacer', 'sizes'), (2, 3)), ((), (1,)), None, None)
    """
    match = _WORDS.fullmatch(words)
    if not match or not any(match.groups()):
        return None
    try:
        pages = numbers_in(match["pages"], int(match["of"])) if match["pages"] else ()
    except WrongUse:
        return None
    return tuple(filter(None, (match["plates"] or "").split(", "))), pages


def in_words(numbers: Iterable[int], of: int) -> str:
    """Which pages these are.

    >>> in_words((2, 3, 4, 7), 16), in_words((1,), 16)
    ('pages 2-4, 7 of 16', 'page 1 of 16')
    """
    found = tuple(numbers)
    return f"page{'s' if len(found) > 1 else ''} {ranges(found)} of {of}"


def ranges(numbers: Iterable[int]) -> str:
    """Page numbers, those that follow each other as a range.

    >>> ranges((2, 3, 4, 7))
    '2-4, 7'
    """
    found = tuple(numbers)
    begins = [at for at, number in enumerate(found) if at == 0 or number != found[at - 1] + 1]
    runs = [found[begin:end] for begin, end in pairwise([*begins, len(found)])]
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)
