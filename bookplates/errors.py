"""What can be wrong, as sentences a binder can act on. Imports nothing of this package."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import NamedTuple


@dataclass(frozen=True, slots=True)
class Problem:
    """One finding: where it is, what is wrong, and what would be right.

    Attributes:
        where: the key in the spec, dotted (``cover.mitre``), or what else the finding concerns; may be empty.
        what: what is wrong, as a clause without a full stop.
        hint: what is allowed, or what to do; empty where there is nothing to add.
        line: the line of the spec, where it is known without looking for the key.
    """

    where: str
    what: str
    hint: str = ""
    line: int | None = None

    def __str__(self) -> str:
        """Write the finding on one line, as the command line prints it.

        >>> str(Problem("cover.board", "0.1 mm is too thin", "0.3 to 10 mm"))
        'cover.board: 0.1 mm is too thin; 0.3 to 10 mm'
        """
        sentence = f"{self.what}; {self.hint}" if self.hint else self.what
        return f"{self.where}: {sentence}" if self.where else sentence


def one_line(text: str) -> str:
    r"""The text with control characters written out, so that a line stays a line and a terminal stays as it was.

    >>> one_line("a\nb")
    'a\\nb'
    """
    return "".join(c if unicodedata.category(c)[0] != "C" else c.encode("unicode_escape").decode() for c in text)


def reason(error: Exception) -> str:
    """Why a file or stream cannot be read or written, in the system's words."""
    words = getattr(error, "strerror", None) or str(error)
    return words[:1].lower() + words[1:]


class Finding(NamedTuple):
    """What a binder would say of a book: refused, or only warned of."""

    problem: Problem
    refused: bool


def refuse(where: str, what: str, hint: str = "") -> Finding:
    """A finding that stops the work."""
    return Finding(Problem(where, what, hint), refused=True)


def warn(where: str, what: str, hint: str = "") -> Finding:
    """A finding that travels with the result."""
    return Finding(Problem(where, what, hint), refused=False)


class BookplatesError(Exception):
    """Something the user can mend. Carries every problem found, not only the first."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("\n".join(map(str, problems)))
        self.problems = problems


class BadSpec(BookplatesError):
    """The spec cannot be used as it stands."""


class BadFile(BookplatesError):
    """A file cannot be read or written, or is not what it should be."""


class WrongUse(BookplatesError):
    """What is asked for besides the spec cannot be had: a plate that nobody knows, a page that is not there."""

    @property
    def sentence(self) -> str:
        """All that is wrong, and once what there is instead."""
        what, hint = ", ".join(problem.what for problem in self.problems), self.problems[0].hint
        return f"{what}; {hint}" if hint else what


class PaperTooSmall(BookplatesError):
    """A plate does not go on the paper it is to be printed on."""


class Disagreement(BookplatesError):
    """The measured PDF is not what the plan says: our own mistake, and nothing is handed over."""
