"""What whole test modules share: a spec in a file, and packs, made once however many tests look at them."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from bookplates.pipeline import Made, make_pack
from books import spec_of
from commands import MINIMAL


@pytest.fixture
def spec(tmp_path: Path) -> Path:
    """A file with a book without fault or warning."""
    path = tmp_path / "pool.toml"
    path.write_bytes(MINIMAL)
    return path


@pytest.fixture(scope="session")
def pack() -> Callable[[str, str], Made]:
    """The pack of a book on a paper, by the names in `books`."""

    @cache
    def made(book: str, paper: str) -> Made:
        return make_pack(spec_of(book, paper))

    return made
