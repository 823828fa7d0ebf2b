"""What is not needed is not loaded: a help text and a refused spec come at once."""

from __future__ import annotations

import subprocess
import sys

import pytest

LOADED = "; import sys; print(*sorted(sys.modules))"
DRAWING = {"reportlab", "pypdf", "PIL", "bookplates.plates", "bookplates.pdf", "bookplates.verify"}
REFUSED = 'title = "Tide pool log"\n[text_block]\nleef = "A6"\n[cover]\nstyle = "taped"\n'


def _loaded(statement: str) -> set[str]:
    done = subprocess.run((sys.executable, "-c", statement + LOADED), capture_output=True, text=True, check=True, timeout=60)
    return set(done.stdout.splitlines()[-1].split())


@pytest.mark.parametrize("arguments", ["--help", "--version"])
def test_help_needs_neither_models_nor_drawing(arguments: str) -> None:
    loaded = _loaded(f"from bookplates.cli import app; app(['{arguments}'], standalone_mode=False)")
    assert "typer" in loaded
    assert not loaded & (DRAWING | {"pydantic", "rich"})


def test_the_package_alone_loads_nothing_else() -> None:
    assert not _loaded("import bookplates") & (DRAWING | {"pydantic", "typer", "rich"})


def test_a_refused_spec_is_not_drawn() -> None:
    refused = (
        "import contextlib, bookplates, bookplates.errors\n"
        f"with contextlib.suppress(bookplates.errors.BadSpec): bookplates.make_pack({REFUSED!r})\n"
        "pass"
    )
    loaded = _loaded(refused)
    assert "pydantic" in loaded
    assert not loaded & DRAWING
