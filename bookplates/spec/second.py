"""The font that `[print] font` names, for letters that the built-in one lacks: read when it is written, and only then."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bookplates.errors import reason
from bookplates.lengths import shown
from bookplates.spec.faults import nearest

if TYPE_CHECKING:
    from bookplates.letters import SecondFont

FROM_THE_SPECS_FOLDER = "a TrueType file; its path counts from the spec's folder"


@dataclass(frozen=True, slots=True)
class Second:
    """What came of the font that a spec names.

    Attributes:
        font: the font; None where none is named, or where it cannot serve.
        fault: why it cannot serve: what is wrong, and what would do.
        known: whether it is known which letters can be printed.
    """

    font: SecondFont | None = None
    fault: tuple[str, str] | None = None
    known: bool = True


NO_SECOND = Second()
"""Where no font is named."""

UNREAD = Second(known=False)
"""Where nobody has looked for one."""


def _unfit(what: str, hint: str) -> Second:
    return Second(fault=(what, hint), known=False)


def read_second(table: object, known: Collection[str], folder: Path | None) -> Second:
    """Read the font that is named, if one is.

    Args:
        table: what stands under [print], whatever it is.
        known: the keys that [print] may hold.
        folder: where the spec stands; None where that is not known.
    """
    written = _font_written(table, known)
    if written is None:
        return NO_SECOND
    if not isinstance(written, str):
        return _unfit(f"{shown(written)} is of the wrong kind", "text in quotes")
    if folder is None:
        what = "a font goes only with a spec that is read from its own file, not from standard input or out of a pack"
        return _unfit(what, "save the spec in a file beside the font")
    return _read(written, folder / written)


def _font_written(table: object, known: Collection[str]) -> Any:
    """What stands in [print] under the key of the font, or under one that most likely was meant for it; or None."""
    written = table if isinstance(table, dict) else {}
    meant = (value for key, value in written.items() if key not in known and nearest(key, known) == "font")
    return written.get("font", next(meant, None))


def _read(written: str, path: Path) -> Second:
    from bookplates.letters import LARGEST_FONT, UnfitFont, read_font  # reads fonts: for nobody who names none

    try:
        if not written.strip():
            return _unfit("is empty", FROM_THE_SPECS_FOLDER)
        if not path.is_file():  # nor is a pipe waited for
            what = "is a folder" if path.is_dir() else "is no file" if path.exists() else "is not there"
            return _unfit(f"{shown(written)} {what}", FROM_THE_SPECS_FOLDER)
        with path.open("rb") as file:
            data = file.read(LARGEST_FONT + 1)
    except (OSError, ValueError) as error:
        return _unfit(f"{shown(written)} cannot be read ({reason(error)})", FROM_THE_SPECS_FOLDER)
    if len(data) > LARGEST_FONT:
        return _unfit(f"{shown(written)} is too large", f"{LARGEST_FONT // 1024**2} MiB at most")
    try:
        return Second(read_font(data))
    except UnfitFont as error:
        return _unfit(f"{shown(written)} {error.what}", error.hint)
