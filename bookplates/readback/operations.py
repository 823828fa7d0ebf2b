"""Splits a content stream into its operations: operands, then the operator (ISO 32000-1, 7.8.2).

pypdf does that byte by byte, which took nine tenths of the time in which a pack is measured. One regular expression
splits a plain stream at once, and leaves the operands as they are written until somebody asks for them: most are of words
and pictures, which nobody measures. A stream that is not plain (an inline image, a comment, an unusual name, anything
damaged) or that is very long is left to pypdf as a whole, which reads it or complains of it.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from bookplates.readback.paths import Broken

Operands = bytes | list[Any]
"""As they are written, or as pypdf reads them."""

Operations = list[tuple[Operands, bytes]]

LONGEST_PLAIN = 1_000_000
"""Bytes of a stream that is split at once, which takes a hundred times as much memory at worst."""

LONGEST_KEPT = 1000
"""Bytes of operands that are kept as read, since the same ones come on many pages."""

_SPACE = rb"[ \t\r\n\f]*"
_END = rb"(?=[ \t\r\n\f()<>\[\]/]|\Z)"
_NAME = rb"/[\w.+-]+" + _END
_NUMBER = rb"[+-]?(?:\d+(?:\.\d*)?|\.\d+)" + _END
_STRING = rb"\([^()\\]*(?:\\(?:[nrtbf()\\]|[0-7]{3})[^()\\]*)*\)|<[0-9A-Fa-f]*>"
_VALUE = b"(?:" + b"|".join((_NUMBER, _NAME, _STRING)) + b")" + _SPACE
_ARRAY = rb"\[" + _SPACE + b"(?:" + _VALUE + rb")*\]" + _SPACE
_DICTIONARY = b"<<" + _SPACE + b"(?:" + _NAME + _SPACE + _VALUE + b")*>>" + _SPACE
_OPERATOR = rb"(?!BI)[A-Za-z'\"][\w*]*" + _END
_OPERATION = re.compile(
    b"((?:" + b"|".join((_VALUE, _ARRAY, _DICTIONARY)) + b")*)(" + _OPERATOR + rb")|[^ \t\r\n\f].*", re.DOTALL
)
"""One operation, or else all that is left. No two ways lead through the same bytes, so that it is quick to fail."""


def operations(stream: Any) -> Operations:
    """The operations of a decoded content stream, or of several that follow each other, in their order."""
    from pypdf.generic import ContentStream  # slow

    content = ContentStream(stream, None)
    plain = _split(content.get_data())
    return content.operations if plain is None else plain


def _split(data: bytes) -> Operations | None:
    """The operations of a plain stream; None of any other."""
    if len(data) > LONGEST_PLAIN:
        return None
    found = _OPERATION.findall(data)
    return None if found and not found[-1][1] else found


def numbers(operands: Operands, count: int) -> list[float]:
    """Exactly so many numbers. Raises Broken for anything else."""
    values = operands.split() if isinstance(operands, bytes) else operands
    if len(values) == count and all(isinstance(value, (int, float, bytes)) for value in values):
        try:
            return [float(value) for value in values]
        except ValueError:
            pass
    raise Broken(f"an operator has not the {count} numbers it needs")


def objects(operands: Operands) -> list[Any]:
    """Operands of any kind, as pypdf reads them; nobody may change them."""
    if not isinstance(operands, bytes):
        return operands
    return _read(operands) if len(operands) > LONGEST_KEPT else _read_once(operands)


def _read(operands: bytes) -> list[Any]:
    from pypdf.generic import ContentStream, DecodedStreamObject  # slow

    stream = DecodedStreamObject()
    stream.set_data(operands + b" n")
    found: list[Any] = ContentStream(stream, None).operations[0][0]
    return found


_read_once = lru_cache(1000)(_read)
