"""Reading what the user names, and writing it whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
import sys
import tempfile
from contextlib import suppress
from pathlib import Path
from typing import Any, BinaryIO

from bookplates.errors import BadFile, Problem

STANDARD = "-"
_STANDARD_OUTPUTS = (STANDARD, "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1")

LARGEST_PDF = 64 * 1024 * 1024
"""Bytes of a PDF that is read; the packs of a large class stay far below."""


def is_standard_output(name: str) -> bool:
    """Whether a name stands for standard output."""
    return name in _STANDARD_OUTPUTS


def read_bytes(name: str, most: int) -> bytes:
    """The bytes of a file, or of standard input for ``-``; no more than `most` and one. Raises BadFile."""
    try:
        if name == STANDARD:
            return _buffer(sys.stdin).read(most + 1)
        with Path(name).open("rb") as file:
            return file.read(most + 1)
    except (OSError, ValueError) as error:
        raise BadFile(Problem("", f"cannot be read ({reason(error)})", "the name of a file that can be read")) from None


def read_pdf(name: str) -> bytes:
    """The bytes of a PDF. Raises BadFile where it cannot be read, or is too large to be a pack."""
    data = read_bytes(name, LARGEST_PDF)
    if len(data) > LARGEST_PDF:
        raise BadFile(Problem("", "is too large", f"{LARGEST_PDF // 1024**2} MiB at most"))
    return data


def write_bytes(name: str, data: bytes, source: str | None = None) -> None:
    """Write a file whole or leave what was there.

    A regular file is replaced in one step; a pipe or a device is written to; ``-`` is standard output.

    Raises:
        BadFile: it cannot be written, or it is the file that was read.
    """
    try:
        if source is not None:
            _refuse_same(name, source)
        if is_standard_output(name):
            stream = _buffer(sys.stdout)
            stream.flush()
            _write_all(getattr(stream, "raw", stream), data)  # what a buffer keeps of a failed write fails again at the end
            stream.flush()
        elif _can_be_replaced(name):
            _replace(Path(os.path.realpath(name)), data)
        else:
            _write_through(Path(name), data)
    except (OSError, ValueError) as error:
        raise BadFile(Problem("", f"cannot be written ({reason(error)})", "a folder and a name that can be written")) from None


def check_new(name: str) -> None:
    """Raises BadFile where a file or folder of that name is there already; a pipe or a device may be."""
    if not is_standard_output(name) and (Path(name).is_file() or Path(name).is_dir()):
        raise BadFile(Problem("", "is there already", "another name, or move it away"))


def write_new(name: str, data: bytes) -> None:
    """Write a file that is not there yet. Raises BadFile where it is, or where it cannot be written."""
    check_new(name)
    write_bytes(name, data)


def let_go(stream: Any) -> None:
    """Send what a stream still holds nowhere: it could not be written, and would be tried once more at the end."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)


def _buffer(stream: Any) -> BinaryIO:
    """The bytes below a standard stream, of which there is none where it was closed from outside."""
    if stream is None:
        raise OSError(errno.EBADF, "it is closed")
    buffer: BinaryIO = stream.buffer
    return buffer


def _refuse_same(name: str, source: str) -> None:
    """Refuse an output that is the input by whatever name, redirected standard streams included."""
    with suppress(OSError, ValueError, AttributeError):
        written = os.fstat(sys.stdout.fileno()) if is_standard_output(name) else Path(name).stat()
        read = os.fstat(sys.stdin.fileno()) if source == STANDARD else Path(source).stat()
        if os.path.samestat(written, read) and (stat.S_ISREG(read.st_mode) or stat.S_ISFIFO(read.st_mode)):
            raise BadFile(Problem("", "is the file that is read", "another name for the output"))


def _can_be_replaced(name: str) -> bool:
    """Whether it is a regular file, or not there yet. Raises OSError for a folder, and for a file that may not be written."""
    mode = _mode(name)
    if mode is None and name.endswith(os.sep):
        raise OSError(errno.ENOENT, "no such folder")
    if mode is not None and stat.S_ISDIR(mode):
        raise OSError(errno.EISDIR, "it is a folder")
    if mode is not None and stat.S_ISREG(mode) and not os.access(name, os.W_OK):
        raise OSError(errno.EACCES, "it may not be written to")
    return mode is None or stat.S_ISREG(mode)


def _mode(name: str) -> int | None:
    try:
        return os.stat(name).st_mode  # not by Path, which forgets a slash at the end
    except FileNotFoundError:
        return None


def _write_through(target: Path, data: bytes) -> None:
    with target.open("wb", buffering=0) as stream:
        _write_all(stream, data)


def _write_all(stream: Any, data: bytes) -> None:
    """Write to a stream that may take less at a time than it is given."""
    view = memoryview(data)
    while view:
        view = view[stream.write(view) or 0 :]


def _replace(target: Path, data: bytes) -> None:
    """Write beside the target, then put it in place; a file that was there keeps its permissions."""
    handle, beside = tempfile.mkstemp(prefix=".", suffix=".part", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(_permissions(target))
        Path(beside).replace(target)
    except BaseException:  # an interrupt, too, leaves nothing behind
        with suppress(OSError):
            Path(beside).unlink()
        raise


def _permissions(target: Path) -> int:
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    umask = os.umask(0)
    os.umask(umask)
    return 0o666 & ~umask


def reason(error: Exception) -> str:
    """Why a file or stream cannot be read or written, in the system's words."""
    words = getattr(error, "strerror", None) or str(error)
    return words[:1].lower() + words[1:]
