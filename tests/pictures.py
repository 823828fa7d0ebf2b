"""Render the README's pictures from the sample specs: run by hand after a page has changed."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
from PIL import Image

from bookplates import make_pack, measure_pdf

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
    both = [page(pdf, pages[plate], 75) for plate in ("wrap outline", "punch guide")]
    pair = Image.new("L", (sum(p.width for p in both) + 8, both[0].height), 160)
    pair.paste(both[0], (0, 0))
    pair.paste(both[1], (both[0].width + 8, 0))
    save(pair, "orchard_notebook.png")


def outline(pdf: pypdfium2.PdfDocument) -> list[dict]:
    return [{"title": mark.get_title(), "page": mark.get_dest().get_index() + 1} for mark in pdf.get_toc()]


if __name__ == "__main__":
    main()
