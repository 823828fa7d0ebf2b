"""Writes the programs that `benchmark.py` holds bookplates against: as little as the same job allows.

``python tests/floors.py FOLDER PACK...`` makes a folder with a `main.py` for each. The floor of `make`, one for every
pack, writes with bare reportlab, and reads back with bare pypdf, exactly as many operators of each kind on each page as
the pack has, in the same fonts and the same letters; that it does is checked here. Pages alike are described once, so
that the description of a large pack is no work to read. The floor of `measure` is pdfplumber.
"""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
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

from pages import FILES, KINDS, LETTERS, PAGES

NAMES = ("plain", "bold")

app = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)


class Book(BaseModel):
    title: str


@app.command()
def make(target: str, read: bool = True) -> None:
    book = Book.model_validate({"title": "Orchard notebook"})
    write(target, book.title)
    if read:
        with open(target, "rb") as file:
            streams = (page["/Contents"].get_object() for page in PdfReader(file).pages)
            found = sum(len(ContentStream(stream, None).operations) for stream in streams)
        typer.echo(f"{target}: {found} operators")


def write(target, title):
    rl_config.useA85 = 0
    for name, file in zip(NAMES, FILES):
        pdfmetrics.registerFont(TTFont(name, file))
    canvas = Canvas(target, invariant=1, pdfVersion=(1, 7), initialFontName=NAMES[0], pageCompression=1)
    canvas.setTitle(title)
    for kind in PAGES:
        page(canvas, *KINDS[kind])
        canvas.showPage()
    canvas.save()


def page(canvas, counts, texts):
    """So many operators of each kind; a path is moved to, drawn, perhaps closed, and painted; layers hold nothing."""
    for n in range(counts["q"]):
        canvas.saveState()
        if n:  # reportlab begins every page with a matrix
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
    for n in range(counts["OC"]):
        canvas.addLiteral("/OC /notes BDC")
        canvas.addLiteral("EMC")
    for n, (bold, length) in enumerate(texts):
        text(canvas, NAMES[bold], (LETTERS[bold] * (length // len(LETTERS[bold]) + 2))[n % 7 : n % 7 + length], n)
    for n in range(counts["Q"]):
        canvas.restoreState()


def paths(canvas, counts):
    """reportlab's own drawPath would write an operator more with every path."""
    left = dict(counts)
    for n in range(counts["m"]):
        rest = counts["m"] - n
        marked = n < counts["BDC"] - counts["OC"]
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


MEASURE_FLOOR = """\
import sys

import pdfplumber

with pdfplumber.open(sys.argv[1]) as pdf:
    print(sum(len(page.curves) + len(page.lines) + len(page.rects) for page in pdf.pages))
"""

MEASURE_BOTH = """\
import sys
import time
from pathlib import Path

import pdfplumber

from bookplates.readback import measure_pdf


def floor(pack):
    with pdfplumber.open(pack) as pdf:
        return sum(len(page.curves) + len(page.lines) + len(page.rects) for page in pdf.pages)


def ours(pack):
    return measure_pdf(pack.read_bytes())


def taken(read, pack):
    began = time.perf_counter()
    read(pack)
    return time.perf_counter() - began


pack, pairs = Path(sys.argv[1]), int(sys.argv[2])
ours(pack), floor(pack)
found = [(taken(ours, pack), taken(floor, pack)) for _ in range(pairs)]
mine, other = (sorted(times)[pairs // 2] for times in zip(*found, strict=True))
print(f"  in one process: {mine:.3f} s, floor {other:.3f} s, {other / mine:.1f} times as fast")
"""


Texts = list[tuple[bool, int]]
"""Each text of a page: whether it is bold, and how many letters it has."""


def described(pdf: Path) -> list[tuple[Counter[str], Texts]]:
    """What stands on each page: how often each operator, and the texts."""
    return [_page(page) for page in PdfReader(pdf).pages]


def _page(page: Any) -> tuple[Counter[str], Texts]:
    fonts = page["/Resources"]["/Font"]
    bold, counts, texts = False, Counter[str](), Texts()  # OC is counted besides, as what some BDC say
    for operands, operator in ContentStream(page["/Contents"].get_object(), None).operations:
        layer = operator == b"BDC" and operands[0] == "/OC"
        counts["OC"] += layer
        counts[operator.decode()] += 1
        if operator == b"Tf":
            bold = "Bold" in fonts[operands[0]]["/BaseFont"]
        elif operator == b"Tj":
            texts.append((bold, len(operands[0])))
    return counts, texts


def letters(pdf: Path, numbers: Iterable[int]) -> tuple[str, str]:
    """The distinct letters of some pages, in plain and in bold type."""
    found: tuple[set[str], set[str]] = (set(), set())

    def see(text: str, _cm: Any, _tm: Any, font: Any, _size: Any) -> None:
        if font:
            found["Bold" in font["/BaseFont"]].update(text.replace("\n", ""))

    pages = PdfReader(pdf).pages
    for number in numbers:
        pages[number].extract_text(visitor_text=see)
    plain, bold = ("".join(sorted(one)) for one in found)
    return plain, bold


def contents(pdf: Path, pages: list[tuple[Counter[str], Texts]]) -> str:
    """The module that tells the floor what a pack holds: the kinds of pages, and of which kind each page is."""
    package = find_spec(FONT_PACKAGE)
    if package is None or not package.submodule_search_locations:
        raise SystemExit("the fonts are not installed")
    files = tuple(str(Path(package.submodule_search_locations[0]) / "files" / f"{name}.ttf") for name in FONT_NAMES)
    none = dict.fromkeys(("q", "Q", "w", "d", "G", "g", "m", "l", "c", "h", "S", "f", "OC", "BDC", "EMC"), 0)
    firsts = [number for number, page in enumerate(pages) if pages.index(page) == number]
    kinds = [pages[number] for number in firsts]
    told = [({**none, **counts}, texts) for counts, texts in kinds]
    lines = (
        f"FILES = {files!r}",
        f"LETTERS = {letters(pdf, firsts)!r}",
        f"KINDS = {pformat(told, compact=True)}",
        f"PAGES = {[kinds.index(page) for page in pages]!r}",
    )
    return "\n".join(lines) + "\n"


def check(name: str, ours: list[Counter[str]], theirs: list[Counter[str]]) -> None:
    """The floor must write what the pack has, no less and no more."""
    for number, (has, writes) in enumerate(zip(ours, theirs, strict=True), 1):
        if has != writes:
            raise SystemExit(f"the floor is not fair on page {number}: {has - writes} lacking, {writes - has} too many")
    print(f"{name}: {len(ours)} pages, {sum(page.total() - page['OC'] for page in ours)} operators, {_kinds(ours)}")


def _kinds(pages: Sequence[Counter[str]]) -> str:
    total = sum(pages, Counter[str]())
    return f"{total['Tj']} texts, {total['m']} paths, {total['BDC'] - total['OC']} of them parts, {total['OC']} times a layer"


def put(folder: Path, files: dict[str, str]) -> None:
    folder.mkdir()
    for name, text in {"main.py": MAIN, **files}.items():
        (folder / name).write_text(text, encoding="utf-8")


def put_make(folder: Path, pack: Path) -> None:
    """The floor of a pack, tried out."""
    pages = described(pack)
    put(folder, {"floor.py": MAKE_FLOOR, "pages.py": contents(pack, pages)})
    subprocess.run((sys.executable, "main.py", "floor.pdf"), cwd=folder, check=True, stdout=subprocess.DEVNULL)
    check(pack.stem, [counts for counts, _ in pages], [counts for counts, _ in described(folder / "floor.pdf")])


def main(folder: Path, packs: Iterable[Path]) -> None:
    put(folder / "help", {"floor.py": HELP_FLOOR})
    put(folder / "refusal", {"floor.py": REFUSAL_FLOOR})
    put(folder / "measure", {"main.py": MEASURE_FLOOR, "both.py": MEASURE_BOTH})
    for pack in packs:
        put_make(folder / pack.stem, pack)


if __name__ == "__main__":
    main(Path(sys.argv[1]), map(Path, sys.argv[2:]))
