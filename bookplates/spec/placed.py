"""Problems with the file and the line that each is about."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property

from bookplates.errors import Problem


def placed(problems: Iterable[Problem], name: str, source: bytes | None) -> Iterator[tuple[str, Problem]]:
    """Each problem with its file and, where it is about a spec, its line; in the order of the lines.

    Args:
        problems: in the order in which they were found.
        name: of the file.
        source: the spec; None where they are about another file, and stay in their order.
    """
    if source is None:
        yield from ((name, problem) for problem in problems)
        return
    lines = _Lines(source)
    found = [(problem.line or lines.of(problem.where), problem) for problem in problems]
    for line, problem in sorted(found, key=lambda pair: pair[0]):
        yield f"{name}:{line}", problem


class _Lines:
    """The lines of a spec's keys, looked up only when a key is asked for: what is no TOML is never searched."""

    def __init__(self, source: bytes) -> None:
        self._source = source

    @cached_property
    def _known(self) -> dict[tuple[str | int, ...], int]:
        from bookplates.spec.lines import lines_of_keys

        return lines_of_keys(self._source.decode("utf-8-sig", "replace"))

    def of(self, where: str) -> int:
        from bookplates.spec.lines import line_of

        return line_of(self._known, where) if where else 1
