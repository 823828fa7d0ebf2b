"""Reading what the user names, and writing it whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from typing import Any, BinaryIO

from bookplates.errors import BadFile, Problem, reason
from bookplates.spec import MOST_BYTES

STANDARD = "-"
_STANDARD_OUTPUTS = (STANDARD, "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1")

_WAYS_OUT = {
    errno.ENOENT: "make the folder first, or another name",
    errno.EACCES: "a folder and a name that can be written",
    errno.EPERM: "a folder and a name that can be written",
    errno.EROFS: "a folder and a name that can be written",
    errno.EISDIR: "the name of a file",
    errno.ENOTDIR: "the name of a folder",
    errno.ENOSPC: "make room, or another folder",
    errno.ENAMETOOLONG: "a shorter name",
}
"""What helps against a fault of the system's, where anything does."""

LARGEST_PDF = 64 * 1024 * 1024
"""Bytes of a PDF that is read; the packs of a large class stay far below."""

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
            return _read(_buffer(sys.stdin), most, most_of_pdf or most)
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


def write_bytes(name: str, data: bytes, source: str | None = None) -> None:
    """Write a file whole or leave what was there.

    A regular file is replaced in one step; a pipe or a device is written to; ``-`` is standard output.

    Raises:
        BadFile: it cannot be written, or it is the file that was read; it is named.
    """
    write_together([(name, data)], source=source)


def write_together(outputs: Sequence[tuple[str, bytes]], *, folder: str | None = None, source: str | None = None) -> None:
    """Write several files, all of them or none: what was there is put back if one fails.

    All are written beside their targets first and then put in place. Pipes, devices and standard output come last, since
    nothing takes back what they were given.

    Args:
        outputs: the name and the bytes of each.
        folder: made first where there is none; its own folder must be there.
        source: the file that was read.

    Raises:
        BadFile: one cannot be written, is the file that was read, or is there twice; it is named.
    """
    with ExitStack() as unmake, ExitStack() as tidy, ExitStack() as undo:  # in case of a fault undone from right to left
        if folder is not None:
            with _told(folder):
                _make_folder(Path(folder), unmake)
        staged, streams = _stage(outputs, source, tidy)
        kept = [beside.with_suffix(".old") for _, beside, _ in staged[: None if streams or len(staged) > 1 else -1]]
        for (name, beside, target), old in zip(staged, [*kept, None], strict=False):
            with _told(name):
                _put(beside, target, old, undo)
        for name, data in streams:
            with _told(name):
                _send(name, data)
        undo.pop_all()  # all is written, and stays
        unmake.pop_all()
        for old in kept:
            tidy.callback(_forget, old)


def _stage(
    outputs: Sequence[tuple[str, bytes]], source: str | None, tidy: ExitStack
) -> tuple[list[tuple[str, Path, Path]], list[tuple[str, bytes]]]:
    """Write what will be regular files beside their targets; apart from them, what nothing can be put beside."""
    staged, streams = [], []
    for name, data in outputs:
        with _told(name):
            if source is not None:
                _refuse_same(name, source)
            if is_standard_output(name) or not _can_be_replaced(name):
                streams.append((name, data))
            else:
                staged.append((name, *_staged(Path(os.path.realpath(name)), data, tidy)))
    _refuse_twice([(name, target) for name, _, target in staged])
    return staged, streams


@contextmanager
def _told(name: str) -> Iterator[None]:
    """What goes wrong with a file is told with its name."""
    try:
        yield
    except (OSError, ValueError) as error:
        way_out = _WAYS_OUT.get(getattr(error, "errno", 0) or 0, "")
        raise BadFile(Problem(name, f"cannot be written ({reason(error)})", way_out)) from None


def _make_folder(folder: Path, unmake: ExitStack) -> None:
    if folder.is_dir():
        return
    if folder.exists():
        raise OSError(errno.ENOTDIR, "it is a file, not a folder")
    unmake.callback(_forget_folder, folder)  # before it is made: an interrupt may come at any time
    folder.mkdir()


def _forget_folder(folder: Path) -> None:
    with suppress(OSError):
        folder.rmdir()


def _refuse_twice(targets: Sequence[tuple[str, Path]]) -> None:
    for at, (name, target) in enumerate(targets):
        if target in [other for _, other in targets[:at]]:
            raise BadFile(Problem(name, "would be written twice", "another name for the output"))


def _put(beside: Path, target: Path, old: Path | None, undo: ExitStack) -> None:
    """Put what stands beside a target in its place; what was there is kept by another name until all is well."""
    if old is not None:
        undo.callback(_put_back, old, target, target.exists())
    if old is not None and target.exists():
        try:
            os.link(target, old)
        except OSError:  # not every file system has hard links
            target.rename(old)
    beside.replace(target)


def _put_back(old: Path, target: Path, was_there: bool) -> None:
    if not was_there:
        _forget(target)
    elif old.exists():
        with suppress(OSError):
            old.replace(target)
            _forget(old)  # where both are still the same file, replacing it does nothing


def _forget(path: Path) -> None:
    with suppress(OSError):
        path.unlink()


def _send(name: str, data: bytes) -> None:
    """Write to standard output, a pipe or a device."""
    if is_standard_output(name):
        stream = _buffer(sys.stdout)
        stream.flush()
        _write_all(getattr(stream, "raw", stream), data)  # what a buffer keeps of a failed write fails again at the end
        stream.flush()
    else:
        _write_through(Path(name), data)


def check_new(name: str) -> None:
    """Raises BadFile where a file or folder of that name is there already; a pipe or a device may be."""
    if not is_standard_output(name) and (Path(name).is_file() or Path(name).is_dir()):
        raise BadFile(Problem(name, "is there already", "another name, or move it away"))


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
            raise BadFile(Problem(name, "is the file that is read", "another name for the output, with -o"))


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


def _staged(target: Path, data: bytes, tidy: ExitStack) -> tuple[Path, Path]:
    """A new file beside the target, with its permissions, and the target; it does not outlive `tidy`."""
    handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=target.parent)
    beside = Path(name)
    tidy.callback(_forget, beside)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    beside.chmod(_permissions(target))
    return beside, target


def _permissions(target: Path) -> int:
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    umask = os.umask(0)
    os.umask(umask)
    return 0o666 & ~umask
