"""A finished PDF taken apart into its objects, each called by a digest of all that it holds: equal ones are called alike.

What an object refers to is part of what it holds, so that a page is known by one digest with everything that shows on it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any, BinaryIO

from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, StreamObject

Digest = bytes

DIGEST = 16
"""Bytes of a digest."""

DEEPEST = 64
"""How deep dictionaries and lists lie in each other at most; ours do in less than ten."""


@dataclass(frozen=True, slots=True)
class Piece:
    """An object as it is written: text, and between its stretches references to other objects.

    Attributes:
        text: one stretch more than there are references.
        refers: the objects referred to, in their order.
        stream: what stands between `stream` and `endstream`; None where it is no stream.
    """

    text: tuple[bytes, ...]
    refers: tuple[Digest, ...]
    stream: bytes | None = None

    def written(self, names: Iterable[bytes]) -> bytes:
        """The object with these names for what it refers to."""
        words = b"".join(part for pair in zip(self.text, (*names, b""), strict=True) for part in pair)
        if self.stream is None:
            return words
        return b"%s /Length %d >>\nstream\n%s\nendstream" % (words.removesuffix(b" >>"), len(self.stream), self.stream)

    @property
    def digest(self) -> Digest:
        """What the object is called."""
        return hashlib.blake2b(repr((self.text, self.refers, self.stream)).encode(), digest_size=DIGEST).digest()


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An entry of the outline: its words, and its page, from 0."""

    title: str
    page: int


@dataclass(frozen=True, slots=True)
class Torn:
    """The pages of a PDF, loose.

    Attributes:
        pieces: every object that a page needs, by digest; what one refers to stands before it.
        pages: the digest of each page, whose own dictionary is a piece like all others.
        layers: those of `pieces` that can be shown and hidden, in the order in which they are listed.
        bookmarks: of its outline.
    """

    pieces: dict[Digest, Piece]
    pages: tuple[Digest, ...]
    layers: tuple[Digest, ...]
    bookmarks: tuple[Bookmark, ...]


def torn(pdf: bytes) -> Torn:
    """A finished pack taken apart. Its pages must hold all that they show themselves, nothing being inherited."""
    reader = PdfReader(BytesIO(pdf))
    root = _of(reader.trailer["/Root"])
    tear = _Tear(keep=True)
    listed = list(_pages(_of(root["/Pages"])))
    pages = tuple(tear.page(page) for _, page in listed)
    layers = _of(_of(root.get("/OCProperties", DictionaryObject())).get("/OCGs", ArrayObject()))
    numbers = {number: at for at, (number, _) in enumerate(listed)}
    return Torn(tear.pieces, pages, tuple(map(tear.reference, layers)), tuple(_bookmarks(root, numbers)))


def digests_of_pages(file: BinaryIO) -> Iterator[Digest]:
    """The digest of each page of a PDF, which is read page by page: no more of it is kept than what pages share."""
    reader = PdfReader(file)
    tear = _Tear(keep=False)
    for _, page in _pages(_of(_of(reader.trailer["/Root"])["/Pages"])):
        yield tear.page(page)
        reader.resolved_objects.clear()


def _of(value: Any) -> Any:
    """What a value refers to, or itself."""
    return value.get_object() if isinstance(value, IndirectObject) else value


def _pages(node: Any, deep: int = 0) -> Iterator[tuple[int, Any]]:
    """The pages below a node of the tree, each with the number of its object (ISO 32000-1, 7.7.3)."""
    if deep > DEEPEST:
        raise ValueError("the tree of pages has no end")
    for kid in node["/Kids"]:
        below = _of(kid)
        if below["/Type"] == "/Pages":
            yield from _pages(below, deep + 1)
        else:
            yield kid.idnum, below


def _bookmarks(root: Any, numbers: dict[int, int]) -> Iterator[Bookmark]:
    """The outline's entries, whose places are pages of these numbers (ISO 32000-1, 12.3.3)."""
    item = _of(_of(root.get("/Outlines", DictionaryObject())).get("/First"))
    while item is not None:
        yield Bookmark(str(item["/Title"]), numbers[item["/Dest"][0].idnum])
        item = _of(item.get("/Next"))


@dataclass(slots=True)
class _Tear:
    """Takes objects apart, each once."""

    keep: bool
    pieces: dict[Digest, Piece] = field(default_factory=dict)
    _known: dict[int, Digest] = field(default_factory=dict)

    def page(self, page: Any) -> Digest:
        """A page without the node above it, which is another in every document."""
        return self._take({key: value for key, value in page.items() if key != "/Parent"})

    def reference(self, reference: Any) -> Digest:
        """The object referred to."""
        number = int(reference.idnum)
        if number not in self._known:
            self._known[number] = self._take(reference.get_object())
        return self._known[number]

    def _take(self, found: Any) -> Digest:
        text, refers = [BytesIO()], list[Digest]()
        self._write(found, text, refers, 0)
        stream = bytes(StreamObject.get_data(found)) if isinstance(found, StreamObject) else None  # as it is packed
        piece = Piece(tuple(part.getvalue() for part in text), tuple(refers), stream)
        digest = piece.digest
        if self.keep:
            self.pieces.setdefault(digest, piece)
        return digest

    def _write(self, value: Any, text: list[BytesIO], refers: list[Digest], deep: int) -> None:
        """A value as a PDF writes it (ISO 32000-1, 7.3), references left out."""
        if deep > DEEPEST:
            raise ValueError("an object lies too deep in others")
        if isinstance(value, IndirectObject):
            refers.append(self.reference(value))
            text.append(BytesIO())
        elif isinstance(value, dict):
            text[-1].write(b"<<")
            for key, each in value.items():
                text[-1].write(b" %s " % str(key).encode("ascii"))
                self._write(each, text, refers, deep + 1)
            text[-1].write(b" >>")
        elif isinstance(value, list):
            text[-1].write(b"[")
            for each in value:
                text[-1].write(b" ")
                self._write(each, text, refers, deep + 1)
            text[-1].write(b" ]")
        else:
            value.write_to_stream(text[-1])
