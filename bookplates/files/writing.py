"""Writing what the user names, whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
import sys
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO

from bookplates.errors import BadFile, Problem, reason
from bookplates.files.reading import STANDARD, buffer_of, is_standard_output

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


def write_bytes(name: str, data: bytes, source: str | None = None) -> None:
    """Write a file whole or leave what was there.

    A regular file is replaced in one step; a pipe or a device is written to; ``-`` is standard output.

    Raises:
        BadFile: it cannot be written, or it is the file that was read; it is named.
    """
    write_together([(name, data)], source=source)


Data = bytes | BinaryIO
"""What a file is to hold: bytes, or another file, from where it stands to its end."""


def check_outputs_go(names: Iterable[str], sources: Iterable[str]) -> None:
    """Find what would keep files from being written before they are made. Raises BadFile."""
    read = [source for source in sources if source]
    for name in names:
        with _told(name):
            for source in read:
                _refuse_same(name, source)
            if not is_standard_output(name) and _can_be_replaced(name):
                _check_folder(Path(os.path.realpath(name)).parent)


def _check_folder(folder: Path) -> None:
    if not folder.is_dir():
        raise OSError(errno.ENOTDIR, "not a folder") if folder.exists() else OSError(errno.ENOENT, "no such file or directory")
    if not os.access(folder, os.W_OK | os.X_OK):
        raise OSError(errno.EACCES, "permission denied")


def write_together(outputs: Iterable[tuple[str, Data]], *, folder: str | None = None, source: str | None = None) -> None:
    """Write several files, all of them or none: what was there is put back if one fails.

    All are written beside their targets first and then put in place. Pipes, devices and standard output come last, since
    nothing takes back what they were given.

    Args:
        outputs: the name and the bytes of each; taken one by one, each written before the next is asked for.
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
    outputs: Iterable[tuple[str, Data]], source: str | None, tidy: ExitStack
) -> tuple[list[tuple[str, Path, Path]], list[tuple[str, Data]]]:
    """Write what will be regular files beside their targets; apart from them, what nothing can be put beside."""
    staged: list[tuple[str, Path, Path]] = []
    streams: list[tuple[str, Data]] = []
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
    seen: set[Path] = set()
    for name, target in targets:
        if target in seen:
            raise BadFile(Problem(name, "would be written twice", "another name for the output"))
        seen.add(target)


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


def _pieces(data: Data) -> Iterator[bytes]:
    """The bytes, no more than a MiB of a file at a time."""
    if isinstance(data, bytes):
        yield data
    else:
        yield from iter(partial(data.read, 1024**2), b"")


def _send(name: str, data: Data) -> None:
    """Write to standard output, a pipe or a device."""
    if is_standard_output(name):
        stream = buffer_of(sys.stdout)
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


def _write_through(target: Path, data: Data) -> None:
    with target.open("wb", buffering=0) as stream:
        _write_all(stream, data)


def _write_all(stream: Any, data: Data) -> None:
    """Write to a stream that may take less at a time than it is given."""
    for piece in _pieces(data):
        view = memoryview(piece)
        while view:
            view = view[stream.write(view) or 0 :]


def _staged(target: Path, data: Data, tidy: ExitStack) -> tuple[Path, Path]:
    """A new file beside the target, with its permissions, and the target; it does not outlive `tidy`."""
    handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=target.parent)
    beside = Path(name)
    tidy.callback(_forget, beside)
    with os.fdopen(handle, "wb") as file:
        file.writelines(_pieces(data))
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
