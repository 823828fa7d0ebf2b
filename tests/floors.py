"""Writes the programs that `benchmark.py` holds bookplates against: as little as the same job allows.

``python tests/floors.py PACK FOLDER`` makes three folders, each with a `main.py`. The floor of `make` writes with
bare reportlab, and reads back with bare pypdf, exactly as many operators of each kind on each page as the pack has,
in the same fonts and the same letters; that it does is checked here.
"""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path
from pprint import pformat
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

from bookplates.letters import FONT_NAMES, FONT_PACKAGE

MAIN = "from floor import app\napp()\n"

HELP_FLOOR = '''\
import typer

app = typer.Typer(add_completion=False, rich_markup_mode=None)


@app.command()
def make(spec: str) -> None:
    """Make the pack."""
'''

REFUSAL_FLOOR = """\
import typer
from pydantic import BaseModel, ValidationError

app = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)


class Book(BaseModel):
    title: str


@app.command()
def make(spec: str) -> None:
    try:
        Book.model_validate({"titel": spec})
    except ValidationError as error:
        typer.echo(error, err=True)
        raise typer.Exit(1) from None
"""

MAKE_FLOOR = '''\
import typer
from pydantic import BaseModel
from pypdf import PdfReader
from pypdf.generic import ContentStream
from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from pages import FILES, LETTERS, PAGES

NAMES = ("plain", "bold")

app = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)


class Book(BaseModel):
    title: str


@app.command()
def make(target: str) -> None:
    book = Book.model_validate({"title": "Orchard notebook"})
    write(target, book.title)
    with open(target, "rb") as file:
        found = [ContentStream(page["/Contents"].get_object(), None).operations for page in PdfReader(file).pages]
    typer.echo(f"{target}: {sum(map(len, found))} operators on {len(found)} pages")


def write(target, title):
    rl_config.useA85 = 0
    for name, file in zip(NAMES, FILES):
        pdfmetrics.registerFont(TTFont(name, file))
    canvas = Canvas(target, invariant=1, pdfVersion=(1, 7), initialFontName=NAMES[0], pageCompression=1)
    canvas.setTitle(title)
    for counts, texts in PAGES:
        page(canvas, counts, texts)
        canvas.showPage()
    canvas.save()


def page(canvas, counts, texts):
    """So many operators of each kind; a path is moved to, drawn, perhaps closed, and painted."""
    for n in range(counts["q"]):
        canvas.saveState()
        canvas.transform(1, 0, 0, 1, n / 7, n / 3)
    for n in range(counts["w"]):
        canvas.setLineWidth(n / 7)
    for n in range(counts["d"]):
        canvas.setDash([n + 0.5, 1.25], 0)
    for n in range(counts["G"]):
        canvas.setStrokeGray(n / 100)
    for n in range(counts["g"]):
        canvas.setFillGray(n / 100)
    paths(canvas, counts)
    for n, (bold, length) in enumerate(texts):
        text(canvas, NAMES[bold], (LETTERS[bold] * (length // len(LETTERS[bold]) + 2))[n % 7 : n % 7 + length], n)
    for n in range(counts["Q"]):
        canvas.restoreState()


def paths(canvas, counts):
    """reportlab's own drawPath would write an operator more with every path."""
    left = dict(counts)
    for n in range(counts["m"]):
        rest = counts["m"] - n
        marked = n < counts["BDC"]
        if marked:
            canvas.addLiteral(f"/Part << /Plate (plate {n}) /Name (part {n}) /Line /cut >> BDC")
        path = canvas.beginPath()
        path.moveTo(n / 7, n / 3)
        for m in range(-(-left["l"] // rest)):
            left["l"] -= 1
            path.lineTo(m / 7 + n, n / 3)
        for m in range(-(-left["c"] // rest)):
            left["c"] -= 1
            path.curveTo(m / 7, n / 3, n / 9, m / 9, n, m / 3)
        if left["h"]:
            left["h"] -= 1
            path.close()
        canvas.addLiteral(path.getCode().removeprefix("n ") + (" S" if n < counts["S"] else " f"))
        if marked:
            canvas.addLiteral("EMC")


def text(canvas, name, letters, n):
    """reportlab's own calls would write two more operators with every text."""
    font = pdfmetrics.getFont(name)
    for subset, codes in font.splitString(letters, canvas._doc):
        known = font.getSubsetInternalName(subset, canvas._doc)
        canvas.addLiteral(f"BT 1 0 0 1 {n / 7:.6f} {n / 3:.6f} Tm {known} {n / 7 + 3:.6f} Tf ({canvas._escape(codes)}) Tj ET")
'''


def operators(pdf: Path) -> list[Counter[str]]:
    """How often each operator stands on each page."""
    return [Counter(operator.decode() for _, operator in _operations(page)) for page in PdfReader(pdf).pages]


def _operations(page: Any) -> list[tuple[Any, bytes]]:
    return ContentStream(page["/Contents"].get_object(), None).operations


def texts(page: Any) -> list[tuple[bool, int]]:
    """Each text of a page: whether it is bold, and how many letters it has."""
    fonts = page["/Resources"]["/Font"]
    bold, found = False, []
    for operands, operator in _operations(page):
        if operator == b"Tf":
            bold = "Bold" in fonts[operands[0]]["/BaseFont"]
        elif operator == b"Tj":
            found.append((bold, len(operands[0])))
    return found


def letters(pdf: Path) -> tuple[str, str]:
    """The distinct letters of the document, in plain and in bold type."""
    found: tuple[set[str], set[str]] = (set(), set())

    def see(text: str, _cm: Any, _tm: Any, font: Any, _size: Any) -> None:
        if font:
            found["Bold" in font["/BaseFont"]].update(text.replace("\n", ""))

    for page in PdfReader(pdf).pages:
        page.extract_text(visitor_text=see)
    plain, bold = ("".join(sorted(one)) for one in found)
    return plain, bold


def contents(pdf: Path) -> str:
    """The module that tells the floor what a pack holds."""
    package = find_spec(FONT_PACKAGE)
    if package is None or not package.submodule_search_locations:
        raise SystemExit("the fonts are not installed")
    files = tuple(str(Path(package.submodule_search_locations[0]) / "files" / f"{name}.ttf") for name in FONT_NAMES)
    kinds = dict.fromkeys(("q", "Q", "w", "d", "G", "g", "m", "l", "c", "h", "S", "f", "BDC", "EMC"), 0)
    pages = [({**kinds, **counts}, texts(page)) for counts, page in zip(operators(pdf), PdfReader(pdf).pages, strict=True)]
    return f"FILES = {files!r}\nLETTERS = {letters(pdf)!r}\nPAGES = {pformat(pages, compact=True)}\n"


def check(pack: Path, floor: Path) -> None:
    """The floor must write what the pack has, no less and no more."""
    ours, theirs = operators(pack), operators(floor)
    for number, (has, writes) in enumerate(zip(ours, theirs, strict=True), 1):
        if has != writes:
            raise SystemExit(f"the floor is not fair on page {number}: {has - writes} lacking, {writes - has} too many")
    print(f"check book: {len(ours)} pages, {sum(page.total() for page in ours)} operators, {_kinds(ours)}")


def _kinds(pages: Sequence[Counter[str]]) -> str:
    total = sum(pages, Counter[str]())
    return f"{total['Tj']} texts, {total['m']} paths, {total['BDC']} of them marked"


def put(folder: Path, files: dict[str, str]) -> None:
    folder.mkdir()
    for name, text in {"main.py": MAIN, **files}.items():
        (folder / name).write_text(text, encoding="utf-8")


def main(pack: Path, folder: Path) -> None:
    put(folder / "help", {"floor.py": HELP_FLOOR})
    put(folder / "refusal", {"floor.py": REFUSAL_FLOOR})
    put(folder / "make", {"floor.py": MAKE_FLOOR, "pages.py": contents(pack)})
    subprocess.run((sys.executable, "main.py", "floor.pdf"), cwd=folder / "make", check=True, stdout=subprocess.DEVNULL)
    check(pack, folder / "make" / "floor.pdf")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
