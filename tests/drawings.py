"""Drawings made by hand for the tests of pages and PDF: no plan behind them."""

from __future__ import annotations

from bookplates.geometry import Box, circle_points, rectangle
from bookplates.pages.place import make_pages
from bookplates.pages.sheets import Pack
from bookplates.papers.printing import PageSetup
from bookplates.plates.drawing import Drawing, Fill, Label, Stroke

SPEC = 'title = "Orchard notebook"\r\n# plums, pears ½\n'.encode()


def card(plate: str, width: float, height: float, *, turnable: bool = True, whole_page: bool = False, title: str = "") -> Drawing:
    """A rectangle to cut, its lower left corner at (-3, 2), with nothing outside it."""
    outline = Stroke(rectangle(-3, 2, width, height), "cut", closed=True, part=f"{plate} card")
    box = Box(-3, 2, width - 3, height + 2)
    return Drawing(plate, title or plate, (outline,), box, turnable=turnable, whole_page=whole_page)


def sampler() -> Drawing:
    """A card of 50 x 70 mm with every kind of line, a hole of 2 mm about (40, 60), a fill and labels."""
    rules = [Stroke(((0, y), (50, y)), line, part=f"{line} rule") for y, line in ((10, "fold"), (14, "place"), (18, "centre"))]  # type: ignore[arg-type]
    others = [Stroke(((0, y), (50, y)), line) for y, line in ((22, "thin"), (26, "medium"), (30, "hidden"), (34, "light"))]  # type: ignore[arg-type]
    return Drawing(
        "sampler",
        "sampler, front",
        (
            Stroke(rectangle(0, 0, 50, 70), "cut", closed=True, part="front board"),
            *rules,
            *others,
            Stroke(circle_points((40, 60), 2), "hole", closed=True, part="station 1"),
            Fill(((2, 2), (5, 2), (3.5, 5)), grey=0.5),
            Label("head ½ → Łódź", (25, 65), 3, "middle"),
            Label("spine", (4, 50), 3, "end", angle=90, bold=True),
            Label("tail", (46, 6), 3, "end"),
        ),
        Box(0, 0, 50, 70),
    )


def pack_of(*drawings: Drawing, setup: PageSetup, title: str = "Orchard notebook", maker: str = "Quince Street Bindery") -> Pack:
    """The drawings on pages, as a pack."""
    return Pack(title, maker, make_pages(drawings, setup, title, maker), SPEC)
