"""Render the README's pictures from the sample specs: run by hand after a page has changed."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
from PIL import Image, ImageDraw

from bookplates import make_pack, measure_pdf, plan
from bookplates.geometry import Matrix, Size
from bookplates.letters import width
from bookplates.pages.sheets import Pack, Placement, Sheet
from bookplates.pdf import write_pdf
from bookplates.plates.drawing import Drawing, Label
from bookplates.plates.marks import LIST
from bookplates.plates.pad import box_round
from bookplates.plates.stitches.picture import finished

HERE = Path(__file__).parent.parent / "sample_specs"
PLATES = {
    "scale page": "diagonal bar rising",
    "board outline": "front board",
    "wrap outline": "front covering",
    "lining outline": "front lining",
    "tape guide": "spine centre",
    "spacer": "spacer",
    "punch guide": "punch guide",
}
"""Each plate to be shown, and a part that is on its page."""

FAMILY = {
    "taped": ("tide_pool_log", "wrap outline, front"),
    "case": ("rock_pool_survey", "wrap outline, spine cloth"),
    "wrapper": ("hedgerow_diary", "wrap outline, wrapper"),
    "exposed": ("rock_pool_ledger", "steps, 3"),
    "side-sewn": ("tide_marks", "cover punch guide"),
    "concertina": ("plot_map_concertina", "fold guide"),
}
"""A page of each kind of cover: the sample, and the plate as its outline calls it."""

SMALL = 35
"""Dots an inch of a page among others."""

PLATE = 64
"""Dots an inch in a plate's picture: its headings can be read, its words by whoever looks close."""

GREYS = 6
"""Shades a picture keeps: line drawings need no more, and the files stay small."""


def page(pdf: pypdfium2.PdfDocument, number: int, dots: int) -> Image.Image:
    """A page at so many dots an inch, drawn finer and then made smaller: small letters keep their places."""
    fine = pdf[number - 1].render(scale=4 * dots / 72).to_pil().convert("L")
    return fine.resize((fine.width // 4, fine.height // 4), Image.Resampling.LANCZOS)


def save(picture: Image.Image, name: str) -> None:
    framed = Image.new("L", (picture.width + 4, picture.height + 4), 160)
    framed.paste(picture, (2, 2))
    framed.quantize(GREYS).save(HERE / name, optimize=True)


def main() -> None:
    made = make_pack((HERE / "orchard_notebook.toml").read_bytes())
    pdf = pypdfium2.PdfDocument(made.pdf)
    pages = {part.plate: part.page for part in measure_pdf(made.pdf).parts if PLATES.get(part.plate) == part.name}
    for plate in PLATES:
        save(page(pdf, pages[plate], PLATE), f"plate_{plate.replace(' ', '_')}.png")
    titles = [sheet["title"] for sheet in outline(pdf)]
    for plate in ("sizes", "steps"):
        save(page(pdf, outline(pdf)[titles.index(plate)]["page"], PLATE), f"plate_{plate}.png")
    bench()
    family()
    sewings()
    both = [page(pdf, pages[plate], 75) for plate in ("wrap outline", "punch guide")]
    pair = Image.new("L", (sum(p.width for p in both) + 8, both[0].height), 160)
    pair.paste(both[0], (0, 0))
    pair.paste(both[1], (both[0].width + 8, 0))
    save(pair, "orchard_notebook.png")


BENCH = {"shopping_list": "shopping list", "cutting_plan": "cutting plan, board, grey board, 1 of 2"}
"""What a class adds, each with the title of its page."""


def bench() -> None:
    """What to buy, and how a sheet of board is cut up, for a class of twelve."""
    pdf = pypdfium2.PdfDocument(make_pack((HERE / "tide_pool_class.toml").read_bytes()).pdf)
    for name, title in BENCH.items():
        number = next(sheet["page"] for sheet in outline(pdf) if sheet["title"] == title)
        save(page(pdf, number, PLATE), f"plate_{name}.png")


def family() -> None:
    """The six kinds of cover, three to a row, each under its name."""
    shown = []
    for style, (sample, plate) in FAMILY.items():
        pdf = pypdfium2.PdfDocument(make_pack((HERE / f"{sample}.toml").read_bytes()).pdf)
        number = next(sheet["page"] for sheet in outline(pdf) if plate in sheet["title"])
        shown.append((style, page(pdf, number, SMALL)))
    wide, high = max(p.width for _, p in shown) + 8, max(p.height for _, p in shown) + 26
    sheet = Image.new("L", (3 * wide, 2 * high), 225)
    for place, (style, picture) in enumerate(shown):
        x, y = place % 3 * wide + 4, place // 3 * high + 20
        sheet.paste(picture, (x, y))
        ImageDraw.Draw(sheet).text((x, y - 16), style, fill=0, font_size=14)
    save(sheet, "family.png")


SEWINGS = {
    "chain": "orchard_notebook",
    "pamphlet": "plant_swap_pamphlet",
    "long stitch": "hedgerow_diary",
    "link": "rock_pool_ledger",
    "french link": "allotment_ledger",
    "tapes": "orchard_year",
    "four-hole": "apple_tally",
    "noble": "potting_shed_book",
    "hemp leaf": "windfall_recipes",
    "tortoise shell": "tide_marks",
}
"""Each sewing, and the sample that has it."""


def sewings() -> None:
    """Every sewing when it is done, as the steps draw it, on a sheet of its own."""
    placed, x, names = [], 0.0, []
    for pattern, sample in SEWINGS.items():
        items = finished(plan((HERE / f"{sample}.toml").read_bytes()))
        box = box_round(items)
        drawing = Drawing("steps", pattern, items, box)
        placed.append(Placement(drawing, Matrix.move(x + 3 - box.left, 70 - box.top)))
        names.append((x + 3, pattern))
        x += max(box.size.width, width(pattern, LIST)) + 8
    words = tuple(Label(name, (at, 74.0), LIST) for at, name in names)
    titles = Drawing("steps", "sewings", words, box_round(words))
    sheet = Sheet(Size(x, 80.0), "sewings", (*placed, Placement(titles, Matrix())), Size(1.0, 1.0))
    pdf = pypdfium2.PdfDocument(write_pdf(Pack("sewings", "", (sheet,), b"")))
    save(page(pdf, 1, 100), "sewings.png")


def outline(pdf: pypdfium2.PdfDocument) -> list[dict]:
    return [{"title": mark.get_title(), "page": mark.get_dest().get_index() + 1} for mark in pdf.get_toc()]


if __name__ == "__main__":
    main()
