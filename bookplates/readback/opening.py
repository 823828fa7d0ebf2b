"""Opening a PDF of unknown origin: what is none, or broken, or locked, is refused in one sentence."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from threading import Lock
from typing import Any

from bookplates.errors import BadFile, Problem

_ONE_AT_A_TIME = Lock()
"""pypdf complains to one logger for the whole process: in another thread it would be heard of the wrong file."""

_ENDS = 1024
"""Header and end-of-file marker stand within so many bytes of a PDF's ends, as readers allow."""


@contextmanager
def opened(data: bytes) -> Iterator[tuple[Any, list[str]]]:
    """The document as pypdf reads it, and what pypdf complains of from now on.

    Raises:
        BadFile: not a PDF, encrypted, cut short, or damaged; also where that only shows while it is read.
    """
    import pypdf  # noqa: F401  # late, since it is slow; were it missing, the file were not at fault

    with _ONE_AT_A_TIME, _listening() as complaints:
        try:
            reader = _reader(data)
            complaints.clear()  # a mended cross-reference table does no harm; a mended number on a page does
            yield reader, complaints
        except BadFile:
            raise
        except Exception as error:  # pypdf says itself that broken files may cause any exception
            raise BadFile(Problem("", "the PDF is damaged and cannot be read")) from error


def _reader(data: bytes) -> Any:
    from pypdf import PdfReader  # slow

    if b"%PDF-" not in data[:_ENDS]:
        raise BadFile(Problem("", "this is not a PDF"))
    if b"%%EOF" not in data[-_ENDS:]:
        raise BadFile(Problem("", "the PDF is cut short: its end is missing"))
    reader = PdfReader(BytesIO(data))
    if reader.is_encrypted:
        raise BadFile(Problem("", "the PDF is encrypted", "save it without a password"))
    return reader


@contextmanager
def _listening() -> Iterator[list[str]]:
    """Keep pypdf's warnings off the screen, and collect them."""
    heard: list[str] = []

    class Ear(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            heard.append(record.name)

    logger, ear = logging.getLogger("pypdf"), Ear()
    before = logger.propagate, logger.handlers, logger.level
    logger.propagate, logger.handlers = False, [ear]
    logger.setLevel(logging.WARNING)
    try:
        yield heard
    finally:
        logger.propagate, logger.handlers = before[:2]
        logger.setLevel(before[2])
