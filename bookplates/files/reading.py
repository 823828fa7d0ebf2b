"""Reading what the user names, which may be a file, a pipe or standard input."""

from __future__ import annotations

import errno
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any, BinaryIO

from bookplates.errors import BadFile, Problem, reason
from bookplates.spec import MOST_BYTES

STANDARD = "-"
_STANDARD_OUTPUTS = (STANDARD, "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1")

LARGEST_PDF = 256 * 1024 * 1024
"""Bytes of a PDF that is read. To that of a class a book like no other adds about 70 KiB: 140 MiB for 2,000 of them."""

_ENDS = 1024
"""Header and end-of-file marker stand within so many bytes of a PDF's ends, as readers allow."""


def is_standard_output(name: str) -> bool:
    """Whether a name stands for standard output."""
    return name in _STANDARD_OUTPUTS


def read_bytes(name: str, most: int, most_of_pdf: int | None = None) -> bytes:
    """The bytes of a file, or of standard input for ``-``; no more than `most` and one.

    Of what begins as a PDF there may be `most_of_pdf` and one, where that is given. Raises BadFile.
    """
    try:
        if name == STANDARD:
            return _read(buffer_of(sys.stdin), most, most_of_pdf or most)
        with Path(name).open("rb") as file:
            return _read(file, most, most_of_pdf or most)
    except (OSError, ValueError) as error:
        raise BadFile(Problem("", f"cannot be read ({reason(error)})", "the name of a file that can be read")) from None


def _read(stream: BinaryIO, most: int, most_of_pdf: int) -> bytes:
    found = stream.read(most + 1)
    return found + stream.read(most_of_pdf - most) if b"%PDF-" in found[:_ENDS] and most_of_pdf > most else found


def is_pdf(data: bytes) -> bool:
    """Whether the bytes are meant as a PDF. What only speaks of one, such as a comment or the title of a spec, is none."""
    later = any(line_end + b"%PDF-" in data[:_ENDS] for line_end in (b"\n", b"\r"))  # no line of a sound spec begins so
    return data.lstrip().startswith(b"%PDF-") or (later and b"%%EOF" in data[-_ENDS:])


def read_spec_or_pack(name: str) -> bytes:
    """The bytes of a spec, one too many at most, or of a whole pack. Raises BadFile."""
    return _not_too_large(read_bytes(name, MOST_BYTES, LARGEST_PDF))


def read_pdf(name: str) -> bytes:
    """The bytes of a PDF. Raises BadFile where it cannot be read, or is too large to be a pack."""
    return _not_too_large(read_bytes(name, LARGEST_PDF))


def _not_too_large(data: bytes) -> bytes:
    if len(data) > LARGEST_PDF:
        raise BadFile(Problem("", "is too large", f"{LARGEST_PDF // 1024**2} MiB at most"))
    return data


def let_go(stream: Any) -> None:
    """Send what a stream still holds nowhere: it could not be written, and would be tried once more at the end."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)


def buffer_of(stream: Any) -> BinaryIO:
    """The bytes below a standard stream, of which there is none where it was closed from outside."""
    if stream is None:
        raise OSError(errno.EBADF, "it is closed")
    buffer: BinaryIO = stream.buffer
    return buffer
