"""What a pack says of itself beside its pages: whether it is all there, and whether all of it will print."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bookplates.readback.opening import opened
from bookplates.readback.walk import entry

MOST_STUDENTS = 10_000
"""Of a class that is read."""


@dataclass(frozen=True, slots=True)
class About:
    """What stands in the information dictionary and in the catalogue (ISO 32000-1, 14.3.3 and 7.7.2).

    Attributes:
        excerpt: what the pack says it is an excerpt of, as it says it; empty where it says nothing.
        pages: how many pages it says it has; None where it says nothing.
        hidden: layers that are switched off, by the names that viewers list.
        true_size: whether it asks to be printed as large as it is.
        of_class: where it holds a whole class, how many pages are the teacher's, then how many each student's.
    """

    excerpt: str
    pages: int | None
    hidden: tuple[str, ...]
    true_size: bool
    of_class: tuple[int, ...] = ()


def about(data: bytes) -> About:
    """What a PDF says of itself. Raises BadFile for no PDF."""
    with opened(data) as (reader, _):
        info, root = entry(reader.trailer, "/Info"), entry(reader.trailer, "/Root")
        excerpt, pages = entry(info, "/Excerpt"), str(entry(info, "/PageCount"))
        return About(
            excerpt=str(excerpt) if isinstance(excerpt, str) else "",
            pages=int(pages) if pages.isascii() and pages.isdecimal() and len(pages) < 7 else None,
            hidden=tuple(_hidden(entry(root, "/OCProperties"))),
            true_size=entry(entry(root, "/ViewerPreferences"), "/PrintScaling") == "/None",
            of_class=_counts(str(entry(info, "/ClassPages"))),
        )


def _counts(words: str) -> tuple[int, ...]:
    """Numbers with spaces between; none where the words are anything else."""
    found = words.split()[: MOST_STUDENTS + 2]
    whole = all(word.isascii() and word.isdecimal() and len(word) < 7 for word in found)
    return tuple(map(int, found)) if whole and len(found) <= MOST_STUDENTS + 1 else ()


def _hidden(layers: Any) -> list[str]:
    """The names of the layers that are off (ISO 32000-1, 8.11.4.3): those listed, or all but those listed as on."""
    usual = entry(layers, "/D")
    off, on = _listed(entry(usual, "/OFF")), _listed(entry(usual, "/ON"))
    every = [*_listed(entry(layers, "/OCGs")), *off]
    shown = [group for group in every if group not in off and (entry(usual, "/BaseState") != "/OFF" or group in on)]
    names = [str(entry(group, "/Name")) for group in every if group not in shown or not _prints(group)]
    return list(dict.fromkeys(names))


def _prints(group: Any) -> bool:
    """Whether a layer that shows is printed, too (ISO 32000-1, 8.11.4.4)."""
    return bool(entry(entry(entry(group, "/Usage"), "/Print"), "/PrintState") != "/OFF")


def _listed(array: Any) -> list[Any]:
    return [group.get_object() for group in array] if isinstance(array, list) else []
