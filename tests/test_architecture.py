"""The house as a test: data goes one way, heavy libraries have their rooms, two numbers have one home."""

from __future__ import annotations

import ast
import importlib
from collections.abc import Iterator
from pathlib import Path

import pytest

import bookplates

ROOT = Path(bookplates.__file__).parent
MODULES = sorted(ROOT.rglob("*.py"))

# A room may look to the right of itself only
ORDER = [
    *("__main__", "cli", "report", "files", "pipeline", "verify", "readback", "pdf", "svg", "pages", "plates", "handout"),
    *("workshop", "book", "spec", "kinds", "papers", "letters", "geometry", "lengths", "errors"),
]
SHARED_WITH_THE_READER = {"geometry", "lengths", "errors"}


def room(path: Path) -> str:
    """The room a module stands in: its folder, or its own name."""
    first = path.relative_to(ROOT).parts[0]
    return first.removesuffix(".py")


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def _absolute(node: ast.ImportFrom, path: Path) -> str:
    if not node.level:
        return node.module or ""
    package = ("bookplates", *path.relative_to(ROOT).parts[:-1])
    return ".".join([*package[: len(package) - node.level + 1], *([node.module] if node.module else [])])


def imported(path: Path) -> Iterator[str]:
    """Every module named in an import anywhere in a file: in functions, and for type checkers only, too."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            module = _absolute(node, path)
            if module == "bookplates":  # its version stands in the front door itself, and is nobody's room
                yield from (f"bookplates.{alias.name}" for alias in node.names if alias.name != "__version__")
            else:
                yield module
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute | ast.Name):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else node.func.id
            if name in ("import_module", "__import__") and node.args and isinstance(node.args[0], ast.Constant):
                yield str(node.args[0].value)


def rooms_of(path: Path) -> set[str]:
    return {name.split(".")[1] for name in imported(path) if name.startswith("bookplates.")}


IDS = [str(path.relative_to(ROOT)) for path in MODULES]
NO_INIT = [path for path in MODULES if path != ROOT / "__init__.py"]


@pytest.mark.parametrize("path", NO_INIT, ids=[str(path.relative_to(ROOT)) for path in NO_INIT])
def test_no_room_looks_up(path):
    here = ORDER.index(room(path))
    for other in rooms_of(path):
        assert other in ORDER, f"{other} is no room"
        assert ORDER.index(other) >= here, f"{room(path)} looks up to {other}"


def test_no_two_rooms_look_at_each_other():
    looks: dict[str, set[str]] = {}
    for path in NO_INIT:
        looks.setdefault(room(path), set()).update(rooms_of(path) - {room(path)})
    assert [(one, other) for one in looks for other in looks[one] if one in looks.get(other, ())] == []


@pytest.mark.parametrize("path", [path for path in MODULES if room(path) == "readback"], ids=lambda path: path.name)
def test_the_reader_shares_no_more_than_it_must(path):
    assert rooms_of(path) <= SHARED_WITH_THE_READER | {"readback"}


def test_errors_imports_nothing_of_ours():
    assert rooms_of(ROOT / "errors.py") == set()


@pytest.mark.parametrize(
    ("library", "rooms"),
    [("reportlab", {"pdf", "svg", "letters"}), ("pypdf", {"readback", "pdf"}), ("typer", {"cli"}), ("rich", {"cli", "report"})],
)
def test_heavy_libraries_have_their_rooms(library, rooms):
    users = {room(path) for path in MODULES if any(name.split(".")[0] == library for name in imported(path))}
    assert users <= rooms


@pytest.mark.parametrize("library", ["reportlab", "pypdf"])
@pytest.mark.parametrize("path", MODULES, ids=IDS)
def test_nobody_outside_their_rooms_loads_them_at_once(path, library):
    """`--help` and a refused spec must not wait for them: outside pdf/ and readback/ they are imported in functions."""
    if room(path) in ("pdf", "readback"):
        return
    at_once = [name for node in tree(path).body if isinstance(node, ast.Import | ast.ImportFrom) for name in _names(node)]
    assert library not in at_once


def _names(node: ast.Import | ast.ImportFrom) -> list[str]:
    names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else [node.module or ""]
    return [name.split(".")[0] for name in names]


@pytest.mark.parametrize(
    "path", [path for path in MODULES if path != ROOT / "lengths" / "unit.py"], ids=lambda path: str(path.relative_to(ROOT))
)
def test_inch_and_point_have_one_home(path):
    numbers = [
        node.value for node in ast.walk(tree(path)) if isinstance(node, ast.Constant) and isinstance(node.value, int | float)
    ]
    assert not {25.4, 72, 2.54, 0.0254, 2.83465} & {number for number in numbers if not isinstance(number, bool)}


@pytest.mark.parametrize("path", MODULES, ids=IDS)
def test_public_names_exist(path):
    dotted = ".".join(["bookplates", *path.relative_to(ROOT).with_suffix("").parts]).removesuffix(".__init__")
    if path.name == "__main__.py":
        return
    module = importlib.import_module(dotted)
    for name in getattr(module, "__all__", ()):
        assert getattr(module, name) is not None


@pytest.mark.parametrize("path", NO_INIT, ids=lambda path: str(path.relative_to(ROOT)))
def test_nobody_inside_uses_the_front_door(path):
    """The package's public names are for callers: a room that took one would look up through it."""
    for name in imported(path):
        if name.startswith("bookplates."):
            first = ROOT / name.split(".")[1]
            assert first.is_dir() or first.with_suffix(".py").is_file(), name
        assert name != "bookplates"


def test_the_tables_of_kinds_are_whole():
    from bookplates.kinds.patterns import PATTERNS
    from bookplates.kinds.styles import STYLES

    for table, key in ((STYLES, "style"), (PATTERNS, "pattern")):
        assert {name: kind.model_fields[key].default for name, kind in table.items()} == {name: name for name in table}
    assert {style.default_pattern for style in STYLES.values()} <= set(PATTERNS)
    assert {style for pattern in PATTERNS.values() for style in pattern.goes_with} <= set(STYLES)
