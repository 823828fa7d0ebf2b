"""Many packs in one document: their pages one after the other, and whatever several of them hold written once.

The document grows on its way out: of what was added only digests and numbers are kept, so that a class of a thousand
takes little more memory than one of ten.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import BinaryIO

from bookplates.pdf.operators import literal
from bookplates.pdf.torn import Bookmark, Digest, Torn, digests_of_pages

PROGRAM = "bookplates"
TOML, CSV = "application#2Ftoml", "text#2Fcsv"


@dataclass(frozen=True, slots=True)
class Attached:
    """A file that the document carries, byte for byte: its name, what it is, its type and its bytes."""

    name: str
    description: str
    kind: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Saying:
    """What the document says of itself.

    Attributes:
        title: of the class, or of the book.
        maker: who teaches it, or empty.
        subject: what it is, in words.
        attached: what it carries.
        teachers: whether the first part is the teacher's.
    """

    title: str
    maker: str
    subject: str
    attached: tuple[Attached, ...]
    teachers: bool


@dataclass(slots=True)
class _Part:
    """Where a pack lies in the document: its node in the tree of pages, its pages, and its bookmarks."""

    title: str
    label: str
    node: int
    pages: list[int]
    bookmarks: tuple[Bookmark, ...]


@dataclass(slots=True)
class _Objects:
    """Writes objects, and knows where each begins."""

    out: BinaryIO
    offsets: list[int] = field(default_factory=list)
    _at: int = 0
    _digest: hashlib._Hash = field(default_factory=lambda: hashlib.md5(usedforsecurity=False))

    def bare(self, data: bytes) -> None:
        """Bytes that are no object."""
        self.out.write(data)
        self._digest.update(data)
        self._at += len(data)

    def number(self) -> int:
        """The number of an object that is written later."""
        self.offsets.append(0)
        return len(self.offsets)

    def write(self, number: int, data: bytes) -> None:
        """The object of that number."""
        self.offsets[number - 1] = self._at
        self.bare(b"%d 0 obj\n%s\nendobj\n" % (number, data))

    def new(self, data: bytes) -> int:
        """An object, and the number it is given."""
        number = self.number()
        self.write(number, data)
        return number

    def end(self, root: int, info: int) -> None:
        """The table of objects, and the trailer with a digest of all that was written (ISO 32000-1, 7.5.4, 7.5.5 and 14.4)."""
        begins, identifier = self._at, self._digest.hexdigest()
        self.bare(b"xref\n0 %d\n0000000000 65535 f \n" % (len(self.offsets) + 1))
        for offset in self.offsets:
            self.bare(b"%010d 00000 n \n" % offset)
        trailer = f"<< /Size {len(self.offsets) + 1} /Root {root} 0 R /Info {info} 0 R /ID [<{identifier}> <{identifier}>] >>"
        self.bare(f"trailer\n{trailer}\nstartxref\n{begins}\n%%EOF\n".encode("ascii"))


class Joining:
    """A document that packs are added to; whole once it has been ended.

    Attributes:
        pages: the digest of each page so far.
    """

    def __init__(self, out: BinaryIO) -> None:
        self.pages: list[Digest] = []
        self._objects = _Objects(out)
        self._known: dict[Digest, int] = {}
        self._layers: dict[Digest, int] = {}
        self._parts: list[_Part] = []
        self._objects.bare(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
        self._tree = self._objects.number()

    def add(self, pack: Torn, title: str, label: str, *, first: bool = False) -> None:
        """The pages of a pack, after those that were added before.

        Args:
            pack: taken apart.
            title: what the outline calls it.
            label: what stands before the numbers of its pages in the viewer's list.
            first: whether they come before all others instead.
        """
        part = _Part(title, label, self._objects.number(), [], pack.bookmarks)
        pages = set(pack.pages)
        for digest, piece in pack.pieces.items():
            if digest not in self._known and digest not in pages:
                names = [_reference(self._known[other]) for other in piece.refers]
                self._known[digest] = self._objects.new(piece.written(names))
        for digest in pack.pages:
            piece = pack.pieces[digest]
            page = piece.written([_reference(self._known[other]) for other in piece.refers])
            above = b" /Parent %s >>" % _reference(part.node)
            part.pages.append(self._objects.new(page.removesuffix(b" >>") + above))
        self._layers |= {digest: self._known[digest] for digest in pack.layers}
        at, place = (0, 0) if first else (len(self.pages), len(self._parts))
        self.pages[at:at] = pack.pages
        self._parts.insert(place, part)
        kids = _array(part.pages)
        tree = b"<< /Type /Pages /Parent %s /Count %d /Kids %s >>" % (_reference(self._tree), len(part.pages), kids)
        self._objects.write(part.node, tree)

    def end(self, saying: Saying) -> None:
        """All that the document says beside its pages. Nothing can be added after it."""
        kids = _array([part.node for part in self._parts])
        self._objects.write(self._tree, b"<< /Type /Pages /Count %d /Kids %s >>" % (len(self.pages), kids))
        outline = self._outline()
        self._objects.end(self._objects.new(self._catalogue(saying, outline)), self._objects.new(self._information(saying)))

    def _information(self, saying: Saying) -> bytes:
        """The information dictionary (14.3.3), with two keys of our own: how many pages there are, and whose."""
        counts = [len(part.pages) for part in self._parts]
        words = {"Title": saying.title, "Author": saying.maker, "Subject": saying.subject, "Creator": PROGRAM}
        words |= {"Producer": PROGRAM, "PageCount": str(len(self.pages))}
        words["ClassPages"] = " ".join(map(str, counts if saying.teachers else [0, *counts]))
        return _dictionary({key: literal(text).encode("ascii") for key, text in words.items()})

    def _catalogue(self, saying: Saying, outline: int) -> bytes:
        """The catalogue (7.7.2), its viewer preferences (12.2), page labels (12.4.2) and layers (8.11.4)."""
        shown = {
            "DisplayDocTitle": b"true",
            "Duplex": b"/Simplex",
            "Enforce": b"[/PrintScaling]",
            "PickTrayByPDFSize": b"true",
            "PrintScaling": b"/None",
        }
        said = {
            "Type": b"/Catalog",
            "Pages": _reference(self._tree),
            "Lang": b"(en-GB)",
            "Outlines": _reference(outline),
            "PageMode": b"/UseOutlines",
            "PageLabels": _dictionary({"Nums": b"[%s]" % b" ".join(self._labels())}),
            "ViewerPreferences": _dictionary(shown),
            "Names": _dictionary({"EmbeddedFiles": self._files(saying.attached)}),
        }
        return _dictionary(said | ({"OCProperties": self._properties()} if self._layers else {}))

    def _labels(self) -> Iterator[bytes]:
        """Each pack's pages are numbered from 1, as their title blocks are, with its label before."""
        at = 0
        for part in self._parts:
            yield b"%d %s" % (at, _dictionary({"S": b"/D", "P": literal(part.label).encode("ascii")}))
            at += len(part.pages)

    def _properties(self) -> bytes:
        every = _array(list(self._layers.values()))
        usual = {"Name": b"(Everything)", "BaseState": b"/ON", "ON": every, "OFF": b"[]", "Order": every}
        return _dictionary({"OCGs": every, "D": _dictionary(usual)})

    def _files(self, attached: Sequence[Attached]) -> bytes:
        """The name tree of embedded files (7.11.4)."""
        named = sorted(attached, key=lambda file: file.name)
        pairs = (b"%s %s" % (literal(file.name).encode("ascii"), _reference(self._file(file))) for file in named)
        return _dictionary({"Names": b"[%s]" % b" ".join(pairs)})

    def _file(self, file: Attached) -> int:
        checksum = hashlib.md5(file.data, usedforsecurity=False).hexdigest()
        parameters = f"<< /Size {len(file.data)} /CheckSum <{checksum}> >>".encode("ascii")
        about = {"Type": b"/EmbeddedFile", "Subtype": b"/" + file.kind.encode("ascii"), "Params": parameters}
        about["Length"] = b"%d" % len(file.data)
        stream = self._objects.new(b"%s\nstream\n%s\nendstream" % (_dictionary(about), file.data))
        name = literal(file.name).encode("ascii")
        said = {"Type": b"/Filespec", "F": name, "UF": name, "Desc": literal(file.description).encode("ascii")}
        said |= {"AFRelationship": b"/Source", "EF": _dictionary({"F": _reference(stream), "UF": _reference(stream)})}
        return self._objects.new(_dictionary(said))

    def _outline(self) -> int:
        """An entry for each pack, and below it, shut, those of its own outline (12.3.3)."""
        root = self._objects.number()
        numbers = [self._objects.number() for _ in self._parts]
        for at, (number, part) in enumerate(zip(numbers, self._parts, strict=True)):
            below = self._below(number, part)
            entry = _entry(part.title, root, part.pages[0]) | _neighbours(numbers, at) | below
            self._objects.write(number, _dictionary(entry))
        ends = {"First": _reference(numbers[0]), "Last": _reference(numbers[-1]), "Count": b"%d" % len(numbers)}
        self._objects.write(root, _dictionary({"Type": b"/Outlines", **ends}))
        return root

    def _below(self, parent: int, part: _Part) -> dict[str, bytes]:
        numbers = [self._objects.number() for _ in part.bookmarks]
        for at, (number, mark) in enumerate(zip(numbers, part.bookmarks, strict=True)):
            entry = _entry(mark.title, parent, part.pages[mark.page]) | _neighbours(numbers, at)
            self._objects.write(number, _dictionary(entry))
        if not numbers:
            return {}
        return {"First": _reference(numbers[0]), "Last": _reference(numbers[-1]), "Count": b"%d" % -len(numbers)}


def same_pages(document: BinaryIO, pages: Iterable[Digest]) -> bool:
    """Whether a written document, read anew, has these pages and no others, each with everything that shows on it."""
    document.seek(0)
    found = digests_of_pages(document)
    return all(next(found, None) == page for page in pages) and next(found, None) is None


def _reference(number: int) -> bytes:
    return b"%d 0 R" % number


def _array(numbers: Iterable[int]) -> bytes:
    return b"[%s]" % b" ".join(map(_reference, numbers))


def _dictionary(entries: Mapping[str, bytes]) -> bytes:
    return b"<< %s >>" % b" ".join(b"/%s %s" % (key.encode("ascii"), value) for key, value in entries.items())


def _entry(title: str, parent: int, page: int) -> dict[str, bytes]:
    destination = b"[%s /Fit]" % _reference(page)
    return {"Title": literal(title).encode("ascii"), "Parent": _reference(parent), "Dest": destination}


def _neighbours(numbers: Sequence[int], at: int) -> dict[str, bytes]:
    """The entries before and after one, where there are any."""
    before = {"Prev": _reference(numbers[at - 1])} if at else {}
    return before | ({"Next": _reference(numbers[at + 1])} if at + 1 < len(numbers) else {})
