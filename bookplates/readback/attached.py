"""What a pack carries besides its pages: the spec it was made from, and that of a class the table of its students.

Attached files stand in the catalog's name tree of embedded files (ISO 32000-1, 7.7.4, 7.9.6 and 7.11.4), which may be
one list or many levels of them, as the last program that saved the file pleased.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from typing import Any, NamedTuple

from bookplates.errors import BadFile, Problem
from bookplates.readback.opening import opened
from bookplates.readback.walk import entry


class Wanted(NamedTuple):
    """A file that packs carry: its name, what it is called, and how many bytes it may have, unpacked."""

    name: str
    called: str
    longest: int

    @property
    def longest_packed(self) -> int:
        """Bytes at any stage of unpacking; written in hexadecimal digits with line ends it has little over twice its length."""
        return 4 * self.longest


LONGEST = 64 * 1024
"""Bytes of a spec, unpacked: what a spec may have."""

SPEC = Wanted("spec.toml", "a spec", LONGEST)
STUDENTS = Wanted("students.csv", "a table of students", 4 * 1024 * 1024)

DEEPEST_TREE = 16
MOST_ATTACHED = 1000
MOST_FILTERS = 4

ONE = "a pack made by bookplates has one"


def attached_spec(data: bytes) -> bytes:
    """The spec attached to a pack, byte for byte.

    Raises:
        BadFile: no PDF that can be read, or not exactly one attached file ``spec.toml`` of 64 KiB at most.
    """
    found = _attached(data, SPEC)
    if found is None:
        raise BadFile(Problem("", f"the PDF has no attached file named {SPEC.name}", ONE))
    return found


def attached_students(data: bytes) -> bytes | None:
    """The table of students attached to the PDF of a class, byte for byte; None where there is none.

    Raises:
        BadFile: no PDF that can be read, several of them, or one of more than 4 MiB.
    """
    return _attached(data, STUDENTS)


def _attached(data: bytes, wanted: Wanted) -> bytes | None:
    with opened(data) as (reader, complaints):
        names = entry(entry(reader.trailer, "/Root"), "/Names")
        files = [file for file in _files(entry(names, "/EmbeddedFiles"), wanted) if _name(file) == wanted.name]
        if not files:
            return None
        if len(files) > 1:
            raise BadFile(Problem("", f"the PDF has {len(files)} attached files named {wanted.name}", ONE))
        complaints.clear()
        found = _unpacked(files[0], wanted)
        if complaints:
            raise _faulty(wanted, "it is damaged")
        return found


def _files(root: Any, wanted: Wanted) -> Iterator[Any]:
    """Every file specification of a name tree, no branch followed twice."""
    branches = [(root, 0)]
    seen: set[int] = set()
    for node, deep in branches:
        if node is None or id(node) in seen:
            continue
        if deep > DEEPEST_TREE or len(seen) > MOST_ATTACHED:
            raise _faulty(wanted, "its list has no end")
        seen.add(id(node))
        leaves = entry(node, "/Names") or ()
        yield from (leaf.get_object() for leaf in leaves[1::2])
        branches += [(kid.get_object(), deep + 1) for kid in entry(node, "/Kids") or ()]


def _name(file: Any) -> str:
    """The name of a file as people see it."""
    return str(entry(file, "/UF") or entry(file, "/F") or "")


def _unpacked(file: Any, wanted: Wanted) -> bytes:
    """The bytes of an attached file, none of whose filters can make them swell."""
    embedded = entry(file, "/EF")
    stream = entry(embedded, "/UF") or entry(embedded, "/F")
    from pypdf.generic import StreamObject  # slow

    if not isinstance(stream, StreamObject):
        raise _faulty(wanted, "it is missing from the file")
    data = StreamObject.get_data(stream)
    for name, parameters in _filters(stream, wanted):
        _check_length(data, wanted.longest_packed, wanted)
        data = _unfiltered(data, name, parameters, wanted)
    _check_length(data, wanted.longest, wanted)
    return bytes(data)


def _filters(stream: Any, wanted: Wanted) -> list[tuple[str, Any]]:
    """The stream's filters in the order in which they are undone, each with its parameters (ISO 32000-1, 7.4)."""
    names, parameters = entry(stream, "/Filter"), entry(stream, "/DecodeParms")
    names = [] if names is None else names if isinstance(names, list) else [names]
    parameters = parameters if isinstance(parameters, list) else [parameters]
    if len(names) > MOST_FILTERS:
        raise _faulty(wanted, "it is packed too often")
    padded = [*parameters, *[None] * len(names)]
    return [(str(name.get_object()), parameter) for name, parameter in zip(names, padded, strict=False)]


def _unfiltered(data: bytes, name: str, parameters: Any, wanted: Wanted) -> bytes:
    """What a filter packed, but for a byte more than may be. Raises BadFile for a filter that no text needs."""
    from pypdf import filters  # slow

    if entry(parameters, "/Predictor") not in (None, 1):
        raise _faulty(wanted, "it is packed as only pictures are")
    if name == "/FlateDecode":
        return _inflated(data, wanted)
    others: dict[str, Any] = {
        "/ASCIIHexDecode": filters.ASCIIHexDecode,
        "/ASCII85Decode": filters.ASCII85Decode,
        "/LZWDecode": filters.LZWDecode,
        "/RunLengthDecode": filters.RunLengthDecode,
    }
    if name not in others:
        raise _faulty(wanted, f"it is packed with {name[1:]}, which is not read")
    return bytes(others[name].decode(data))


def _inflated(data: bytes, wanted: Wanted) -> bytes:
    inflate = zlib.decompressobj()
    found = inflate.decompress(data, wanted.longest_packed + 1)
    if not inflate.eof and len(found) <= wanted.longest_packed:
        raise _faulty(wanted, "it is cut short")
    return found


def _check_length(data: bytes, most: int, wanted: Wanted) -> None:
    if len(data) > most:
        raise _faulty(wanted, "it is too long", f"{wanted.called} has {wanted.longest // 1024:,} KiB at most")


def _faulty(wanted: Wanted, what: str, hint: str = "") -> BadFile:
    return BadFile(Problem("", f"the attached {wanted.name} cannot be used: {what}", hint))
