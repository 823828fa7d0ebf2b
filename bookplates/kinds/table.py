"""Tables of kinds whose files are opened when a kind is asked for: most books need one style and one pattern."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, MutableMapping
from importlib import import_module
from typing import Generic, TypeVar, cast

Kind = TypeVar("Kind")


class Table(MutableMapping[str, type[Kind]], Generic[Kind]):
    """Kinds by name, in the order written.

    Args:
        places: where each kind stands, as "module:Class".
    """

    def __init__(self, places: Mapping[str, str]) -> None:
        self._kinds: dict[str, str | type[Kind]] = dict(places)

    def __getitem__(self, name: str) -> type[Kind]:
        kind = self._kinds[name]
        if isinstance(kind, str):
            module, _, called = kind.partition(":")
            kind = self._kinds[name] = cast("type[Kind]", getattr(import_module(module), called))
        return kind

    def __setitem__(self, name: str, kind: type[Kind]) -> None:
        self._kinds[name] = kind

    def __delitem__(self, name: str) -> None:
        del self._kinds[name]

    def __contains__(self, name: object) -> bool:
        return name in self._kinds

    def __iter__(self) -> Iterator[str]:
        return iter(self._kinds)

    def __len__(self) -> int:
        return len(self._kinds)
