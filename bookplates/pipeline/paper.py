"""The paper on the table through the rooms: spec, plan, what fits, and a page of drawings."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from bookplates.errors import BadSpec
from bookplates.pipeline.book import checked_spec

if TYPE_CHECKING:
    from bookplates.workshop.fitting.answer import Answer


@dataclass(frozen=True, slots=True)
class Fitted:
    """What there is to say of the paper, and the drawings where they were asked for.

    Attributes:
        answer: what fits, the ways out, the largest book.
        pdf: the bytes of the drawings; empty where nobody asked.
        pages: how many they are.
    """

    answer: Answer
    pdf: bytes = b""
    pages: int = 0


def fit(source: str | bytes, folder: Path | None = None, *, largest: bool = False, drawings: bool = False) -> Fitted:
    """Hold a book, or the books of a class, against the paper on the table.

    Args:
        source: the spec, TOML as text or UTF-8 bytes.
        folder: where the spec stands, for the font that it may name; None where that is not known.
        largest: whether the largest book is asked for, rather than ways out.
        drawings: whether pages are wanted that show it.

    Raises:
        BadSpec: with every problem found; also where nothing is said of the paper.
        PaperTooSmall: the drawings do not go on the printer's paper.
        Disagreement: the drawings' bars do not measure as they should.
    """
    from bookplates.book.plan import plan as work_out
    from bookplates.workshop.fitting.answer import answer
    from bookplates.workshop.fitting.fit import no_stock

    spec = checked_spec(source, for_printing=drawings, folder=folder)
    missing = no_stock(spec)
    if missing:
        raise BadSpec(missing)
    found = answer(spec, work_out(spec), folder, largest=largest)
    if not drawings:
        return Fitted(found)
    if spec.second is None:
        return _drawn(found)
    from bookplates.letters import second_font

    with second_font(spec.second):
        return _drawn(found)


def _drawn(found: Answer) -> Fitted:
    """The answer with its pages; they are measured as a pack is, though only their bars are true."""
    from bookplates.pages.frame import check_paper
    from bookplates.pages.place import make_pages
    from bookplates.pages.sheets import Pack
    from bookplates.pdf import write_pdf
    from bookplates.plates.fit_page import draw
    from bookplates.verify import verify_pack

    spec, plan = found.trial.spec, found.trial.plan
    check_paper(spec.setup)
    pages = make_pages(draw(found, spec.setup), spec.setup, plan.title, plan.maker, plan.units)
    pdf = write_pdf(Pack(plan.title, plan.maker, pages, spec.source))
    verify_pack((), pdf, spec.setup.reading)
    return Fitted(found, pdf, len(pages))
