"""Names of people: as they are printed, as messages call them, and as the names of files. Any letters may stand in them."""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

from bookplates.spec.tables import LONGEST_TITLE

if TYPE_CHECKING:
    from bookplates.letters import SecondFont

LONGEST_STEM = 60
"""Letters of a name that stand in the name of its file: with number and ending far below the 255 bytes that file systems take."""

_IN_ASCII = str.maketrans(
    {"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ħ": "h", "ŋ": "n", "ı": "i", "ŧ": "t"}
)
"""Small Latin letters that Unicode does not take apart into a letter and a mark."""


def called(number: int, name: str) -> str:
    """What a student is called on a page and in a message: the name, or the number where there is none.

    >>> called(7, ""), called(3, "Ana Perez")
    ('student 7', 'Ana Perez')
    """
    return name.strip() or f"student {number}"


def file_name(number: int, name: str, of: int) -> str:
    """The name of a student's own file: safe on every system, and no two of a class alike.

    It begins with the student's number, which nobody shares and which no system reserves, and holds only small
    ASCII letters, figures and hyphens before its ending.

    Args:
        number: of the student, from 1.
        name: any text.
        of: how many students there are; it says how many figures the number has.

    >>> file_name(3, "Ana Pérez", 12), file_name(7, "ναι", 9)
    ('03-ana-perez.pdf', '7-student.pdf')
    """
    stem = in_ascii(name)[:LONGEST_STEM].strip("-")
    return f"{number:0{len(str(of))}d}-{stem if re.search('[a-z]', stem) else 'student'}.pdf"


def in_ascii(text: str) -> str:
    """Small ASCII letters and figures, a hyphen for all else between them.

    >>> in_ascii("Zoë  O'Łęcka ../x")
    'zoe-o-lecka-x'
    """
    apart = unicodedata.normalize("NFKD", text.lower().translate(_IN_ASCII))
    plain = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return re.sub("[^a-z0-9]+", "-", plain.lower()).strip("-")


def printable_name(name: str, second: SecondFont | None = None) -> str | None:
    """The name as it can be printed, or None where it is left to be written by hand: there is none, or letters are lacking.

    Args:
        name: on one line, as a class holds it.
        second: the font for letters that the built-in one lacks, if there is one.
    """
    if not name.strip() or lacking(name, second):
        return None
    from bookplates.letters import ELLIPSIS, composed

    whole = composed(name.strip())
    return whole if len(whole) <= LONGEST_TITLE else f"{whole[: LONGEST_TITLE - 1].rstrip()}{ELLIPSIS}"


def lacking(name: str, second: SecondFont | None = None) -> str:
    """The distinct letters of a name that the fonts cannot print."""
    if name.isascii() and name.isprintable():
        return ""  # every font has these: no need to open one
    from bookplates.letters import missing, second_font  # opens a font file

    with second_font(second):
        return missing(name)
